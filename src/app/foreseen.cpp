#include "app/foreseen.h"
#include "app/outage_frame.h"
#include "app/step_view.h"
#include "session/display.h"
#include "session/step_picture.h"

namespace isochore::app {

using screens::Mark;

namespace {

constexpr std::size_t most_figures = 3; // beside a keypad there is little room

/// "Check every joint: Within limits"; a question keeps its mark and takes no colon.
std::string titled(std::string const& title, std::string const& verdict)
{
    return title + (title.ends_with('?') ? " " : ": ") + verdict;
}

std::string figures(Desk& desk, session::Foreseen const& seen)
{
    std::string text;
    std::size_t n = 0;
    for (auto const& shown :
         session::show_results(seen.evaluation.result, seen.step->show, taste_of(*desk.outage))) {
        if (++n > most_figures)
            break;
        text += (text.empty() ? "" : "; ") + desk.words(shown.label) + " " + desk.words(shown.value);
    }
    return text;
}

} // namespace

std::optional<screens::VerdictView> foreseen_view(Desk& desk, std::optional<session::Foreseen> const& seen)
{
    if (!seen)
        return std::nullopt;
    auto const& words = desk.words;
    auto const& e = seen->evaluation;
    std::string const title = words.title(*seen->step);
    if (!e.ok())
        return screens::VerdictView{Mark::undecided,
                                    titled(title, words("not ready")),
                                    session::in_print(words.sentence(e.problem)),
                                    {}};
    screens::VerdictView out;
    out.mark = mark_of_verdict(e.verdict);
    out.title = title;
    if (std::string const verdict = verdict_title(e.verdict, seen->step->kind, words, false);
        !verdict.empty())
        out.title = titled(title, verdict);
    bool const good = e.verdict == "pass" || e.verdict == "none";
    std::string const shown = figures(desk, *seen);
    out.text = session::in_print(good && !shown.empty() ? shown : words.reason(*seen->step, e.reason));
    if (!good)
        out.remedy = session::in_print(words.sentence(e.remedy));
    return out;
}

void show_foreseen(Desk& desk, std::optional<session::Foreseen> const& seen, screens::StepView& view,
                   screens::PictureSpace space)
{
    auto verdict = foreseen_view(desk, seen);
    if (!verdict)
        return;
    auto const& e = seen->evaluation;
    if (!view.picture && e.ok()) {
        view.picture =
            session::step_picture(desk.outage->context(), *seen->step, e.result, e.inputs,
                                  {space.width_mm, space.height_mm}, desk.measure, desk.words.for_pictures());
        // The picture says at its place what the words would, and the answers need the room: of what fails,
        // only what to do is said.
        if (view.picture && !view.answers.empty()) {
            verdict->text.clear();
            if (e.verdict != "fail")
                verdict->remedy.clear();
        }
    }
    if (verdict->mark == Mark::none && verdict->text.empty())
        return; // a title alone says nothing that the picture does not
    bool const silent = !view.verdict || view.verdict->title.empty() || view.verdict->mark == Mark::none ||
                        view.verdict->mark == Mark::recorded;
    if (silent)
        view.verdict = std::move(verdict);
    else
        view.notes.push_back(verdict->title + (verdict->text.empty() ? "" : ". " + verdict->text));
}

} // namespace isochore::app
