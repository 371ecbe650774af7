#include "sample_document.h"
#include "../drawing/sample_pictures.h"
#include <cmath>
#include <fmt/format.h>

using namespace isochore::report;
using isochore::drawing::Mark;

namespace isochore::tests {

namespace {

StepRow plain_step(std::string number, std::string title, std::string value)
{
    StepRow step;
    step.number = std::move(number);
    step.title = std::move(title);
    step.value = std::move(value);
    step.mark = Mark::pass;
    step.who = "R. Dahl";
    step.when = "2026-11-25 13:44 +01:00";
    return step;
}

StepRow computed_step(std::string number)
{
    auto step = plain_step(std::move(number), "Work out the mass to add", "0.72 kg ± 0.09 kg");
    step.limit = "≥ 39.2 kg/m³ after the fill";
    step.limit_source = "profile kd-41 r3: maker's sheet 4, table 2";
    step.limit_confirmed = true;
    step.reason = "The density after the fill lies above the limit by more than its 95 % interval.";
    step.working = {{"m = V (ρ_target - ρ_now)", "0.303 m³ (40.00 - 37.62) kg/m³ = 0.721 kg",
                     "SF6: Guder and Wagner 2009, J. Phys. Chem. Ref. Data 38, 33"},
                    {"ρ = ρ(T, p)", "284.65 K, 0.5623 MPa absolute: 37.62 kg/m³", "same"}};
    step.budget = {{"gauge, class 0.6", "0.009 bar, rectangular", 0.61},
                   {"gas temperature", "0.5 K, normal", 0.24},
                   {"volume", "1 %, rectangular", 0.11},
                   {"equation of state", "0.02 %", 0.04}};
    return step;
}

StepRow corrected_step(std::string number)
{
    auto step = plain_step(std::move(number), "Read the gauge before the fill", "4.61 bar g");
    step.expected = "4.63 ± 0.04 bar g";
    step.limit = "4.2 to 5.4 bar g";
    step.limit_source = "profile kd-41 r3: nameplate";
    step.limit_confirmed = false;
    step.instrument = "reference gauge G-112, class 0.6, due 2027-03-01";
    step.corrections = {{"46.1 bar g", "R. Dahl", "13:41 +01:00", "point left out"}};
    step.notes = {
        "Photo gauge-before.jpg, SHA-256 5d41402abc4b2a76b9719d911017c592ae2f7b1c4e9d3f0a8b6c5d4e3f2a1b0c"};
    return step;
}

StepRow overridden_step(std::string number)
{
    auto step = plain_step(std::move(number), "Let gas and air come to one temperature", "6 K apart");
    step.limit = "≤ 3 K";
    step.limit_source = "common practice, no source";
    step.limit_confirmed = false;
    step.mark = Mark::overridden;
    step.reason = "Gas is 6 K colder than the air; the reading would rise by about 0.12 bar.";
    step.notes = {
        "Overridden by M. Okafor, supervisor, with PIN: the window ends at 15:00 and the target was computed "
        "for the gas temperature measured on the metal."};
    return step;
}

RecordStage stage_of(std::string number, std::string title, int copies)
{
    RecordStage stage;
    stage.number = number;
    stage.title = std::move(title);
    stage.state = "closed 14:05 +01:00 by R. Dahl";
    int n = 0;
    auto const next = [&] { return fmt::format("{}.{}", number, ++n); };
    for (int i = 0; i < copies; ++i) {
        stage.steps.push_back(
            plain_step(next(), "Compare the breaker's nameplate with the profile", "agrees"));
        stage.steps.push_back(corrected_step(next()));
        stage.steps.push_back(
            plain_step(next(), "Swarf removed, looked for with lamp and magnet", "none seen"));
        stage.steps.push_back(computed_step(next()));
        stage.steps.push_back(overridden_step(next()));
        auto later = plain_step(next(), "Fix the label with the new alarm points inside the door", "");
        later.mark = Mark::deferred;
        later.notes = {"Deferred by R. Dahl to L. Brandt, to be closed before hand back."};
        stage.steps.push_back(later);
    }
    return stage;
}

RecordTable purge_log()
{
    RecordTable table;
    table.title = "Purge log";
    table.heads = {"Time", "Purity, % by volume", "Flow, l/min", "By", "Remark"};
    table.right = {false, true, true};
    for (int i = 0; i < 14; ++i)
        table.rows.push_back({fmt::format("13:{:02} +01:00", 2 * i),
                              fmt::format("{:.2f}", 99.1 - 38.0 * std::exp(-i / 1.5)), "0.8", "R. Dahl",
                              i == 6 ? "valve opened a quarter turn further" : ""});
    table.closing = "Plateau 99.1 ± 0.2 % from 13:18 on; time constant 2.9 min.";
    return table;
}

RecordTable gas_ledger()
{
    RecordTable table;
    table.title = "Ledger of gas";
    table.heads = {"Time", "Movement", "From", "To", "Mass, kg", "u, kg"};
    table.right = {false, false, false, false, true, true};
    table.rows = {{"12:31", "recovered from the pipe", "breaker pipe", "cart C-2", "0.012", "0.004"},
                  {"13:12", "purge, collected", "breaker", "cart C-2", "0.110", "0.010"},
                  {"13:48", "top-up", "cylinder 8841", "breaker", "0.742", "0.012"},
                  {"13:59", "left in hose, recovered", "hose", "cart C-2", "0.018", "0.003"}};
    table.closing = "Into the breaker 0.72 ± 0.02 kg; handling loss 0.004 ± 0.016 kg (0.1 t CO2e); leakage "
                    "not part of this.";
    return table;
}

void add_front_matter(RecordDocument& d)
{
    d.facts = {{"Breaker", "KD-41, three poles, spring mechanism"},
               {"Serial number", "KD-41-0093"},
               {"Rated voltage", "145 kV"},
               {"Interrupting time", "3 cycles at 60 Hz"},
               {"Filling", "0.62 MPa abs at 20 °C, 40.0 kg/m³"},
               {"Gas mass", "12.1 kg SF6"},
               {"Profile", "kd-41 revision 3, released 2026-08-14"},
               {"Outage window", "2026-11-25 12:00 to 15:00 +01:00"},
               {"Crew", "R. Dahl, L. Brandt"},
               {"Unit", "serial U-2207, settings from stick 0C41"}};
    d.done = {
        "A condition-monitoring unit was mounted in the control cabinet. Pick-up coils were put on the three "
        "bushing current circuits at X1-X3, 1200:5.",
        "The trip input follows a separate wetted output with an 18 kΩ resistor across it; the 52b input is "
        "wetted from the station supply.",
        "A density sensor was fitted at the fill port. The joints were proved tight, the new pipe was purged "
        "to its plateau, and the breaker was brought back to its filling density."};
    d.summary = {
        {Mark::pass, "Leak rate of the new pipe", "0.15 ± 0.41 % a year", "≤ 0.5 % a year", ""},
        {Mark::pass, "Purity on the plateau", "99.1 ± 0.2 %", "≥ 98.5 %", "Four readings agree."},
        {Mark::undecided, "Sensor against reference", "0.31 ± 0.35 kg/m³", "≤ 0.5 kg/m³",
         "The limit lies inside the interval. A gauge of class 0.25 or two more readings would decide."},
        {Mark::pass, "Density after the fill", "40.1 ± 0.3 kg/m³", "≥ 39.2 kg/m³", ""},
        {Mark::overridden, "Equal temperatures", "6 K apart", "≤ 3 K",
         "Overridden with PIN, see deviations."},
        {Mark::fail, "Trip time, first operation", "41.2 ms", "≤ 38 ms",
         "Above the limit by 3.2 ms. The second operation took 36.9 ms."}};
    d.deviations = {
        {Mark::overridden, "8.5 Let gas and air come to one temperature", "6 K apart, limit 3 K",
         "The window ends at 15:00; the target was computed for the gas temperature on the metal.",
         "M. Okafor, supervisor", "2026-11-25 13:46 +01:00", ""},
        {Mark::deferred, "3.6 Fix the label with the new alarm points", "label not at hand",
         "The label is printed at the office.", "R. Dahl, technician", "2026-11-25 12:20 +01:00",
         "L. Brandt, before 2026-12-01"},
        {Mark::undecided, "10.2 Sensor against reference", "0.31 ± 0.35 kg/m³, limit 0.5 kg/m³", "",
         "R. Dahl, technician", "2026-11-25 14:31 +01:00", "L. Brandt, next visit with a class 0.25 gauge"}};
    Signature first{"R. Dahl",
                    "technician, did the work",
                    "2026-11-25 14:52 +01:00 (CET)",
                    "I did this work and entered these values.",
                    "key 3f2a91c0 77b1e204",
                    {}};
    std::vector<isochore::drawing::Point> stroke;
    for (int i = 0; i <= 60; ++i)
        stroke.push_back({i / 60.0, 0.5 + 0.35 * std::sin(i * 0.45) * std::exp(-i / 70.0)});
    first.strokes = {stroke};
    Signature second = first;
    second.name = "M. Okafor";
    second.role = "supervisor";
    second.meaning =
        "I reviewed this record, worst first, with its deviations, and accept the breaker for service.";
    d.signatures = {first, second};
}

} // namespace

JobPack sample_pack()
{
    JobPack p;
    p.subtitle = "Fit a condition-monitoring unit to SF6 breaker KD-41";
    p.created = "2026-11-20T09:00:00+01:00";
    p.author = "R. Dahl";
    p.invented = true;
    p.block = {"Alder Ferry", "Q07", "KD-41", "AF-Q07-112", "AF-Q07-112-JP", "A", ""};
    p.facts = {{"Window", "2026-11-25 12:00 to 14:30 +01:00"},
               {"Crew", "R. Dahl, L. Brandt"},
               {"Profile", "kd-41 revision 3"},
               {"DC supply", "125 V, 105 to 140 V"}};
    p.cautions = {
        {"Stored energy", "A released closing spring does not release the opening spring. Follow the maker's "
                          "instructions, local rules and the person in charge of the work."},
        {"Current transformers", "Never open a secondary circuit. A clip-on coil needs no opening at all."},
        {"SF6",
         "Heavier than air: it collects in pits and cabinets. Recover, never vent. Smell or powder means "
         "stop and leave."}};
    p.unknown = {"Thread of the fill port: decides the adapter; measure diameter, pitch and taper.",
                 "Supervision of trip coil 2: decides how the trip input is connected."};
    p.kit = {
        {"Wiring",
         {{"1 pc", "resistor 18 kΩ, 5 W, 250 V", "noise, trip input", "3.20 EUR", ""},
          {"12 m", "shielded pair 2 x 0.75 mm²", "inputs and currents", "18.00 EUR", "cut to length at site"},
          {"3 pcs", "pick-up coil, split core", "currents", "", "with the unit"}}},
        {"Gas",
         {{"1 pc", "density sensor, G 3/8", "gas connection", "", "with the unit"},
          {"2 pcs", "bonded seal G 3/8", "every joint once, one spare", "2.40 EUR", ""},
          {"2.1 kg", "SF6, with purity certificate", "top-up, hose and purge", "",
           "0.72 kg expected in the breaker"}}}};
    p.kit_total = "Parts 23.60 EUR without what comes with the unit; 14 days for the longest lead time.";
    char const* const titles[] = {
        "Make safe",           "Mount", "Current circuits", "Timing inputs", "Gas connection",
        "Tightness and purge", "Fill",  "Unit settings",    "Prove",         "Hand back"};
    double const likely[] = {15, 25, 20, 20, 30, 35, 20, 10, 20, 15};
    double start = 0.0;
    for (int i = 0; i < 10; ++i) {
        p.plan.push_back({titles[i], start, likely[i] * 0.6, likely[i], likely[i] * 1.9, ""});
        start += likely[i] * (i == 2 || i == 3 ? 0.4 : 0.75);
    }
    p.plan[5].note = "Needs the swarf step of Mount closed; waiting time is used for Unit settings.";
    p.window_min = 150.0;
    p.plan_results = {
        {Mark::undecided, "Likely 2 h 07 of 2 h 30; with every stage at its longest 58 min too long."},
        {Mark::none, "Critical path, where a delay delays the end: Gas joint, Fill."}};
    p.footer = "Planning values, no promise: the person in charge of the work decides on the day.";
    return p;
}

RecordDocument sample_document(int copies)
{
    RecordDocument d;
    d.subtitle = "Density sensor, current pick-ups and timing inputs fitted to SF6 breaker KD-41";
    d.created = "2026-11-25T14:55:00+01:00";
    d.author = "R. Dahl";
    d.invented = true;
    d.block = {"Alder Ferry", "Q07", "KD-41", "AF-Q07-112", "AF-Q07-112-CR", "A", ""};
    for (auto& stage : sample_stages())
        d.line.push_back({stage.label, true, false, stage.flag});
    add_front_matter(d);
    char const* const titles[] = {
        "Prepare",        "Make safe",           "Mount", "Current circuits", "Timing inputs",
        "Gas connection", "Tightness and purge", "Fill",  "Unit settings",    "Prove",
        "Hand back"};
    int number = 0;
    for (char const* const title : titles)
        d.stages.push_back(stage_of(std::to_string(++number), title, copies));
    using isochore::drawing::MeasureText;
    auto const picture = [](std::string caption, auto draw) {
        return RecordPicture{std::move(caption), 120.0, 80.0,
                             [draw](double w, double h, MeasureText const& m) {
                                 return draw(isochore::drawing::Space{w, h}, m);
                             }};
    };
    d.stages[4].pictures.push_back(picture("Trip input as connected", [](auto s, auto const& m) {
        return wiring_diagram(sample_wiring(isochore::drawing::Connection::separate_output), s, m);
    }));
    d.stages[6].tables.push_back(purge_log());
    d.stages[6].pictures.push_back(picture(
        "Purity against time", [](auto s, auto const& m) { return purge_curve(sample_purge(), s, m); }));
    d.stages[7].pictures.push_back(picture("State of the gas after the fill", [](auto s, auto const& m) {
        return pt_diagram(sample_pt(), s, m);
    }));
    d.ledgers.push_back(gas_ledger());
    d.hash = "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08";
    d.qr_text = "isochore:" + d.hash;
    d.footer = "The record behind this paper is a chain of entries, each holding the hash of the one before, "
               "signed at its "
               "head. A changed, dropped or reordered entry is found by checking the file. The key is kept "
               "on the tablet: "
               "this shows tampering, it does not prove who signed.";
    return d;
}

} // namespace isochore::tests
