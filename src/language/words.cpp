#include "language/words.h"
#include "language/places.h"
#include "json/read.h"
#include <utility>

namespace isochore::language {
namespace {

constexpr std::size_t largest_text = 4u << 20;

Result<TextTable> read_table(disk::Disk& disk, disk::Path const& file)
{
    auto const text = disk.read(file, largest_text);
    if (!text)
        return tl::unexpected(text.error());
    auto const json = read_json(*text, file.filename().string());
    if (!json)
        return tl::unexpected(json.error());
    if (!json->is_object())
        return fail(Error::Code::corrupt, file.filename().string(), "must be an object of texts");
    TextTable table;
    for (auto const& [key, value] : json->items()) {
        if (!value.is_string())
            return fail(Error::Code::corrupt, file.filename().string() + ": " + key, "must be a text");
        table.emplace(key, value.get<std::string>());
    }
    return table;
}

} // namespace

Result<void> Words::load(disk::Disk& disk, disk::Path const& folder, std::string_view language)
{
    TextTable keyed, own, phrases;
    if (language != "en") {
        auto checklists = read_table(disk, folder / (std::string(language) + ".json"));
        if (!checklists)
            return tl::unexpected(checklists.error());
        auto program = read_table(disk, folder / ("ui." + std::string(language) + ".json"));
        if (!program)
            return tl::unexpected(program.error());
        auto said_below = read_table(disk, folder / ("said." + std::string(language) + ".json"));
        if (!said_below)
            return tl::unexpected(said_below.error());
        phrases = std::move(*said_below);
        keyed = std::move(*checklists);
        own = std::move(*program);
    }
    // The program's words and where a limit comes from stand inside sentences too.
    phrases.insert(own.begin(), own.end());
    constexpr std::string_view source = "source.";
    for (auto const& [key, text] : keyed)
        if (key.starts_with(source))
            phrases.emplace(key.substr(source.size()), text);
    m_phrases = PhraseBook(phrases);
    m_keyed = std::move(keyed);
    m_own = std::move(own);
    m_language = language;
    return {};
}

void Words::learn(model::Checklists const& checklists)
{
    if (m_keyed.empty())
        return;
    for (auto const& stage : checklists.stages) {
        m_phrases.add(stage.title, title(stage));
        m_phrases.add(stage.brief, brief(stage));
        for (auto const& step : stage.steps) {
            m_phrases.add(step.title, title(step));
            for (auto const& a : step.answers) {
                m_phrases.add(a.label, answer(step, a));
                if (!a.then.empty())
                    m_phrases.add(a.then, then(step, a));
            }
        }
    }
}

std::string Words::sentence(std::string_view english) const
{
    return m_phrases.turned(english);
}

Translate Words::for_pictures() const
{
    return [this](std::string_view english, std::initializer_list<std::string> values) {
        return values.size() ? (*this)(english, values) : sentence(english);
    };
}

std::string Words::operator()(std::string_view english) const
{
    if (auto const it = m_own.find(english); it != m_own.end())
        return it->second;
    auto const said = m_phrases.find(english);
    return said ? *said : m_phrases.figures(english);
}

std::string Words::operator()(std::string_view english, std::initializer_list<std::string> values) const
{
    return fill_places((*this)(english), values);
}

std::string Words::keyed(std::string const& key, std::string const& english) const
{
    auto const it = m_keyed.find(key);
    return it == m_keyed.end() ? english : it->second;
}

std::string Words::title(model::Step const& s) const
{
    return keyed("step." + s.id + ".title", s.title);
}
std::string Words::title_of(model::Checklists const& checklists, std::string const& english) const
{
    for (auto const& stage : checklists.stages) {
        if (stage.brief == english)
            return brief(stage);
        if (stage.title == english)
            return title(stage);
        for (auto const& step : stage.steps)
            if (step.title == english)
                return title(step);
    }
    return english;
}
std::string Words::text(model::Step const& s) const
{
    return keyed("step." + s.id + ".text", s.text);
}
std::string Words::why(model::Step const& s) const
{
    return keyed("step." + s.id + ".why", s.why);
}
std::string Words::wrong(model::Step const& s) const
{
    return keyed("step." + s.id + ".wrong", s.wrong);
}
std::string Words::then(model::Step const& s, model::StepAnswer const& a) const
{
    return keyed("then." + s.id + "." + a.id, a.then);
}
std::string Words::source(std::string const& english) const
{
    return keyed("source." + english, english);
}
std::string Words::reason(model::Step const& s, std::string const& english) const
{
    for (auto const& a : s.answers) {
        if (!a.then.empty() && a.then == english)
            return then(s, a);
        if (a.label == english)
            return answer(s, a);
    }
    return sentence(english);
}
std::string Words::about(model::Stage const& s) const
{
    return keyed("stage." + s.id + ".about", s.about);
}
std::string Words::answer(model::Step const& s, model::StepAnswer const& a) const
{
    return keyed("answer." + s.id + "." + a.id, a.label);
}
std::string Words::title(model::Stage const& s) const
{
    return keyed("stage." + s.id + ".title", s.title);
}
std::string Words::brief(model::Stage const& s) const
{
    return keyed("stage." + s.id + ".brief", s.brief);
}
std::string Words::title(model::Caution const& c) const
{
    return keyed("caution." + c.id + ".title", c.title);
}
std::string Words::text(model::Caution const& c) const
{
    return keyed("caution." + c.id + ".text", c.text);
}

} // namespace isochore::language
