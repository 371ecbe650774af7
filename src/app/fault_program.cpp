#include "app/fault_program.h"

namespace isochore::app {

screens::SheetView FaultProgram::view(screens::PictureSpace)
{
    screens::SheetView sheet;
    screens::ListView list;
    list.heading = "The store cannot be opened";
    list.text = "Nothing was changed. Outages already recorded are still in the file named here.";
    list.notice = screens::VerdictView{screens::Mark::fail, m_error.where, m_error.detail, {}};
    list.empty = m_error.code == Error::Code::denied
                     ? "Close the other window, then look again."
                     : "Copy the whole folder to a safe place before anyone tries to mend it.";
    list.actions = {{"leave", "Leave", {}, false, true, false},
                    {"again", "Look again", {}, true, true, false}};
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
