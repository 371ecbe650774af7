#include "window/rehearsal.h"
#include <map>
#include <sstream>

namespace isochore::window {

namespace {

enum class Wants { nothing, id, id_and_maybe_text, id_and_two_numbers, one_number, two_numbers, text };

std::map<std::string, Wants> const& verbs()
{
    static std::map<std::string, Wants> const all{
        {"tap", Wants::id},
        {"hold", Wants::id},
        {"draw", Wants::id},
        {"drag", Wants::id_and_two_numbers},
        {"fling", Wants::id_and_two_numbers},
        {"type", Wants::text},
        {"scan", Wants::text},
        {"press", Wants::id},
        {"expect", Wants::id_and_maybe_text},
        {"expect-no", Wants::id},
        {"expect-enabled", Wants::id},
        {"expect-disabled", Wants::id},
        {"shot", Wants::id},
        {"log", Wants::id},
        {"texts", Wants::id},
        {"size", Wants::two_numbers},
        {"dpi", Wants::one_number},
        {"theme", Wants::id},
        {"finger", Wants::nothing},
        {"mouse", Wants::nothing},
        {"wait", Wants::one_number},
        {"later", Wants::one_number},
        {"clock", Wants::one_number},
        {"chimes", Wants::one_number},
        {"await", Wants::id_and_maybe_text},
        {"await-no", Wants::id},
    };
    return all;
}

std::string trimmed(std::string text)
{
    auto const blank = [](char c) { return c == ' ' || c == '\t' || c == '\r'; };
    while (!text.empty() && blank(text.back()))
        text.pop_back();
    std::size_t start = 0;
    while (start < text.size() && blank(text[start]))
        ++start;
    return text.substr(start);
}

// The first word is taken off the front of `rest`.
std::string take_word(std::string& rest)
{
    std::size_t const end = std::min(rest.find_first_of(" \t"), rest.size());
    std::string word = rest.substr(0, end);
    rest = trimmed(rest.substr(end));
    return word;
}

bool is_number(std::string const& text)
{
    std::istringstream stream(text);
    double value = 0.0;
    return static_cast<bool>(stream >> value) && stream.eof();
}

bool is_two_numbers(std::string text)
{
    std::string const first = take_word(text);
    return is_number(first) && is_number(text);
}

// What is wrong with a command, or nothing.
std::string fault(RehearsalCommand const& command)
{
    auto const verb = verbs().find(command.verb);
    if (verb == verbs().end())
        return "there is no command '" + command.verb + "'";
    switch (verb->second) {
    case Wants::nothing:
        return command.id.empty() ? "" : "nothing may follow '" + command.verb + "'";
    case Wants::id:
        if (command.id.empty())
            return "a name must follow '" + command.verb + "'";
        return command.rest.empty() ? "" : "only one name may follow '" + command.verb + "'";
    case Wants::id_and_maybe_text:
        return command.id.empty() ? "a name must follow '" + command.verb + "'" : "";
    case Wants::id_and_two_numbers:
        return is_two_numbers(command.rest) ? ""
                                            : "a name and two numbers must follow '" + command.verb + "'";
    case Wants::one_number:
        return is_number(command.id) && command.rest.empty()
                   ? ""
                   : "one number must follow '" + command.verb + "'";
    case Wants::two_numbers:
        return is_number(command.id) && is_number(command.rest)
                   ? ""
                   : "two numbers must follow '" + command.verb + "'";
    case Wants::text:
        return command.rest.empty() ? "a text must follow '" + command.verb + "'" : "";
    }
    return "";
}

// Ids may hold spaces ("unit.bar g"): written in quotes then.
std::string take_id(std::string& rest)
{
    if (rest.empty() || rest.front() != '"')
        return take_word(rest);
    std::size_t const end = rest.find('"', 1);
    if (end == std::string::npos)
        return take_word(rest);
    std::string id = rest.substr(1, end - 1);
    rest = trimmed(rest.substr(end + 1));
    return id;
}

} // namespace

Result<std::vector<RehearsalCommand>> parse_rehearsal(std::string const& script)
{
    std::vector<RehearsalCommand> commands;
    std::istringstream stream(script);
    std::string line;
    for (int number = 1; std::getline(stream, line); ++number) {
        std::string rest = trimmed(line);
        if (rest.empty() || rest.front() == '#')
            continue;
        RehearsalCommand command;
        command.line = number;
        command.verb = take_word(rest);
        bool const text_only = command.verb == "type" || command.verb == "scan";
        if (!text_only)
            command.id = take_id(rest);
        command.rest = rest;
        if (auto const what = fault(command); !what.empty())
            return fail(Error::Code::invalid_input, "rehearsal line " + std::to_string(number),
                        "'" + trimmed(line) + "': " + what + ".");
        commands.push_back(std::move(command));
    }
    return commands;
}

} // namespace isochore::window
