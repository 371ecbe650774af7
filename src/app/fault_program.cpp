#include "app/fault_program.h"
#include "app/screen_words.h"

namespace isochore::app {

screens::SheetView FaultProgram::view(screens::PictureSpace)
{
    auto const& words = m_words;
    screens::SheetView sheet;
    sheet.words = screen_words(words);
    screens::ListView list;
    list.heading = words("The store cannot be opened");
    list.text = words("Nothing was changed. Outages already recorded are still in the file named here.");
    list.notice = screens::VerdictView{
        screens::Mark::fail, words.sentence(m_error.where), words.sentence(m_error.detail), {}};
    list.empty = m_error.code == Error::Code::denied
                     ? words("Close the other window, then look again.")
                     : words("Copy the whole folder to a safe place before anyone tries to mend it.");
    list.actions = {{"leave", words("Leave"), {}, false, true, false},
                    {"again", words("Look again"), {}, true, true, false}};
    sheet.list = std::move(list);
    sheet.product_line = "Isochore";
    return sheet;
}

void FaultProgram::act(screens::Intent const& intent)
{
    if (intent.kind != screens::Intent::Kind::action)
        return;
    m_retry = intent.id == "again";
    m_quit = true;
}

} // namespace isochore::app
