#include "app/controller.h"
#include "app/pages.h"
#include "app/screen_words.h"
#include "app/unit_habit.h"
#include <algorithm>

namespace isochore::app {

using screens::Intent;

Controller::Controller(session::Workspace& workspace, disk::Path text_folder, drawing::MeasureText measure,
                       Settings settings)
    : m_desk{workspace, std::move(text_folder), std::move(settings), {}, std::move(measure), {}, {}, {}, {},
             {}}
{
    if (m_desk.settings.language != "en")
        if (auto const loaded =
                m_desk.words.load(workspace.disk(), m_desk.text_folder, m_desk.settings.language);
            !loaded)
            m_desk.report(loaded.error());
    m_page = std::make_unique<JobsPage>();
}

void Controller::open(std::unique_ptr<Page> first)
{
    m_page = std::move(first);
}

void Controller::turn_page()
{
    if (m_desk.next)
        m_page = std::move(m_desk.next);
}

/// What the journal says of steps names them by their English titles.
void Controller::learn_titles()
{
    auto const* const now = m_desk.outage ? &m_desk.outage->checklists() : nullptr;
    if (now && (now != m_learned || m_desk.words.language() != m_learned_in))
        m_desk.words.learn(*now);
    m_learned = now;
    m_learned_in = m_desk.words.language();
}

/// The whole store is verified in passing, a few entries a frame, so that a start need not wait for it.
void Controller::verify_a_little()
{
    constexpr std::int64_t at_a_time = 500;
    if (m_unverified == 0)
        return;
    auto const left = m_desk.workspace.journal().verify_some(at_a_time);
    m_unverified = left ? *left : 0;
    if (!left)
        say_damaged(m_desk, left.error());
}

screens::SheetView Controller::view(screens::PictureSpace space)
{
    verify_a_little();
    screens::SheetView sheet;
    sheet.words = screen_words(m_desk.words);
    bool held = m_library.holds(m_desk, *m_page, sheet);
    if (!held) {
        turn_page(); // away from a page that was left while it was held
        m_page->tick(m_desk);
        turn_page();
        held = m_library.holds(m_desk, *m_page, sheet);
    }
    learn_titles();
    if (!held)
        m_page->view(m_desk, sheet, space);
    if (m_desk.entry.is_open()) {
        sheet.entry = m_desk.entry.view();
        // The keypad knows no language; what it refuses by itself is marked for it.
        sheet.entry->problem = m_desk.words(sheet.entry->problem);
        for (auto const& unit : sheet.entry->units)
            sheet.entry->unit_labels.push_back(unit_shown(m_desk.words, unit));
    }
    if (m_desk.question)
        sheet.question =
            screens::QuestionView{m_desk.question->title, m_desk.question->text, m_desk.question->actions};
    return sheet;
}

void Controller::act(Intent const& intent)
{
    if (m_desk.question) {
        bool const key = intent.kind == Intent::Kind::key;
        if (intent.kind != Intent::Kind::action && !key)
            return;
        if (key && intent.text != "cancel" && intent.text != "enter")
            return;
        std::string answer = intent.id;
        if (key)
            answer = intent.text == "enter" ? m_desk.question->actions.back().id : "cancel";
        // The answer may ask the next question, so this one goes first.
        auto const answered = std::move(m_desk.question->answered);
        m_desk.question.reset();
        if (answered)
            answered(answer);
    } else if (m_desk.entry.is_open()) {
        m_desk.entry.act(intent);
    } else if (m_library.holding()) {
        m_library.act(m_desk, intent);
    } else {
        m_page->act(m_desk, intent);
    }
    turn_page();
}

window::Settings Controller::settings()
{
    window::Settings chosen;
    chosen.theme = m_desk.settings.theme;
    chosen.sound = m_desk.settings.sound;
    if (m_desk.settings.dpi > 0.0)
        chosen.dpi = m_desk.settings.dpi;
    return chosen;
}

std::optional<double> Controller::wake_in_s()
{
    constexpr double soon = 0.2, while_reading = 0.1;
    auto const page = m_library.holding() ? std::optional(while_reading) : m_page->wake_in_s();
    return m_unverified > 0 ? std::optional(page ? std::min(*page, soon) : soon) : page;
}

} // namespace isochore::app
