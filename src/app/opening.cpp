#include "app/opening.h"
#include "app/screen_words.h"
#include "quantity/error_words.h"

namespace isochore::app {

using screens::Intent;

Opening::Opening(Open open, Settings settings, Words words)
    : m_open(std::move(open)), m_settings(std::move(settings)), m_words(std::move(words))
{
    look();
}

void Opening::look()
{
    auto opened = m_open();
    m_error.reset();
    if (opened)
        m_controller = std::move(*opened);
    else
        m_error = std::move(opened.error());
}

screens::SheetView Opening::fault_sheet() const
{
    auto const& words = m_words;
    screens::SheetView sheet;
    sheet.words = screen_words(words);
    screens::ListView list;
    list.heading = words("The store cannot be opened");
    list.text = words("Nothing was changed. What was recorded before is still where it was.");
    list.notice = screens::VerdictView{screens::Mark::fail, words("Nothing can be recorded"),
                                       words.sentence(m_error->detail),
                                       names_its_place(*m_error) ? std::string() : m_error->where};
    list.empty = m_error->code == Error::Code::corrupt
                     ? words("Copy the whole folder to a safe place before anyone tries to mend it.")
                     : words("When that is put right, look again here.");
    list.actions = {{"leave", words("Leave"), {}, false, true, false},
                    {"again", words("Try again"), {}, true, true, false}};
    sheet.list = std::move(list);
    sheet.product_line = "Isochore";
    return sheet;
}

screens::SheetView Opening::view(screens::PictureSpace space)
{
    return m_controller ? m_controller->view(space) : fault_sheet();
}

void Opening::act(Intent const& intent)
{
    if (m_controller) {
        m_controller->act(intent);
        return;
    }
    bool const enter = intent.kind == Intent::Kind::key && intent.text == "enter";
    if (intent.kind != Intent::Kind::action && !enter)
        return;
    if (intent.id == "leave")
        m_quit = true;
    else
        look();
}

window::Settings Opening::settings()
{
    if (m_controller)
        return m_controller->settings();
    window::Settings chosen;
    chosen.theme = m_settings.theme;
    if (m_settings.dpi > 0.0)
        chosen.dpi = m_settings.dpi;
    return chosen;
}

std::optional<double> Opening::wake_in_s()
{
    return m_controller ? m_controller->wake_in_s() : std::nullopt;
}

bool Opening::wants_quit()
{
    return m_quit || (m_controller && m_controller->wants_quit());
}

} // namespace isochore::app
