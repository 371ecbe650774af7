#include "app/outage_frame.h"
#include "app/pages.h"
#include "seal/record.h"

namespace isochore::app {

void AboutPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    if (desk.outage)
        frame_outage(desk, sheet, {});
    else
        frame_plain(sheet);
    screens::ListView list;
    list.heading = desk.words("Cautions and about");
    list.text =
        desk.words("The maker's instructions, local codes and licensed practice come first. This program "
                   "helps people who know the work; it gives nobody leave to do it.");
    auto const loaded = desk.outage ? desk.outage->checklists() : model::Checklists{};
    for (auto const& [id, caution] : loaded.cautions)
        list.rows.push_back({"caution." + id,
                             desk.words.title(caution),
                             desk.words.text(caution),
                             {},
                             screens::Mark::none,
                             false});
    list.rows.push_back({"record",
                         desk.words("What the sealed record shows"),
                         desk.words(seal::record_footer),
                         {},
                         screens::Mark::none,
                         false});
    list.rows.push_back(
        {"gas",
         desk.words("Gas figures"),
         desk.words("SF6 after Guder and Wagner, J. Phys. Chem. Ref. Data 38, 33 (2009); its own "
                    "uncertainty in density is 0.02 %, about 0.1 % near the dew line."),
         {},
         screens::Mark::none,
         false});
    list.actions = {{"back", desk.words("Back"), {}, true, true, false}};
    sheet.list = std::move(list);
}

void AboutPage::act(Desk& desk, screens::Intent const& intent)
{
    if (intent.kind == screens::Intent::Kind::action)
        go_home(desk);
    else if (intent.kind == screens::Intent::Kind::stage && desk.outage)
        desk.go(std::make_unique<JumpPage>(intent.id));
}

} // namespace isochore::app
