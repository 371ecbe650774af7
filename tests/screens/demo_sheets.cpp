#include "screens/demo_sheets.h"

namespace isochore::demo {

using namespace screens;

namespace {

std::vector<StageView> line_at(int current)
{
    char const* const names[] = {"Prepare",      "Make safe", "Mount",    "Currents", "Timing",   "Gas joint",
                                 "Tight, purge", "Fill",      "Settings", "Prove",    "Hand back"};
    char const* const ids[] = {"prepare", "safe", "mount",    "current", "timing",  "gas",
                               "tight",   "fill", "settings", "prove",   "handback"};
    std::vector<StageView> line;
    for (int i = 0; i < 11; ++i) {
        StageView stage;
        stage.id = ids[i];
        stage.label = names[i];
        stage.closed = i < current;
        stage.current = i == current;
        if (i == 3 && current > 3) {
            stage.flag = "1 later";
            stage.flag_mark = Mark::deferred;
        }
        line.push_back(stage);
    }
    return line;
}

TitleBlockView block(std::string used)
{
    return {"Alder Ferry", "Q07", "KD-41", "AF-Q07-112", std::move(used), ""};
}

std::vector<ActionView> actions(std::string primary)
{
    return {{"back", "Back", "", false, true, false},
            {"later", "Not now", "say why", false, true, false},
            {"record", std::move(primary), "", true, true, false}};
}

FieldView field(std::string id, std::string label, std::string typed, std::string unit)
{
    FieldView f;
    f.id = std::move(id);
    f.label = std::move(label);
    f.typed = std::move(typed);
    f.unit = std::move(unit);
    return f;
}

SheetView sheet_at(int stage, std::string used)
{
    SheetView view;
    view.line = line_at(stage);
    view.block = block(std::move(used));
    return view;
}

SheetView fill(PictureSpace space)
{
    SheetView view = sheet_at(7, "1 h 12 of 1 h 55");
    StepView step;
    step.id = "fill.target";
    step.where = "Fill   step 3 of 7";
    step.title = "Bring the gas to its filling density";
    step.text = "Open the cart valve slowly. Stop at the target and wait for the reading to settle before "
                "you record it.";
    step.fields = {field("pressure", "Gauge now", "4.61", "bar g"),
                   field("temperature", "Gas temperature", "11.5", "°C")};
    step.results = {{"Add", "0.72 kg", "± 0.09 kg"}, {"Stop at", "4.94 bar g", ""}};
    step.verdict = VerdictView{Mark::undecided, "Cannot tell yet",
                               "Gas is 6 K colder than the air. In about 14 min the reading will decide; "
                               "target rises to 5.09 bar g.",
                               ""};
    step.picture = demo_isochores(space);
    step.why = "The breaker interrupts and insulates by the density of its gas, not by its pressure. "
               "Pressure follows temperature; density does not, as long as nothing leaks.";
    step.wrong = "Above the target: stop, close the cart valve, wait for the temperatures to agree, then "
                 "recover the excess through the cart. Never vent.";
    step.source = "Profile KD-41 revision 3, gas.nominal, confirmed from the nameplate.";
    step.working = {
        {"m = V (ρ target − ρ now)", "0.72 kg = 0.300 m³ × (40.0 − 37.6) kg/m³",
         "ρ: reference equation of state for SF6, Guder and Wagner 2009"},
        {"ρ now = ρ(T, p)", "37.6 kg/m³ at 11.5 °C and 0.562 MPa absolute", "gauge G-114, due 2027-03"}};
    step.budget = {
        {"gas temperature", "0.06 kg", 0.62}, {"gauge", "0.04 kg", 0.27}, {"gas volume", "0.02 kg", 0.11}};
    step.history = {{"10:31", "AB", "Gauge now 4.58 bar g"},
                    {"10:42", "AB", "Gauge now 4.61 bar g, corrected"}};
    step.actions = actions("Record reading");
    view.step = step;
    return view;
}

SheetView timing(PictureSpace space)
{
    SheetView view = sheet_at(4, "0 h 38 of 1 h 55");
    StepView step;
    step.id = "timing.resistor";
    step.where = "Timing inputs   step 4 of 6";
    step.title = "Resistor across the trip input";
    step.text = "The trip coil is supervised, so the input follows a separate trip output. The resistor "
                "keeps noise below half the drop-out.";
    step.rows = {{"heat, 5 W part", "≥ 7.8 kΩ", "1.09 W of 2.5 W", Mark::pass},
                 {"contact breaks", "≥ 0.7 kΩ", "7.8 mA of 200 mA", Mark::pass},
                 {"noise 1.0 mA", "≤ 25 kΩ", "15.3 V of 20 V", Mark::pass},
                 {"wetting 5 mA", "≤ 21 kΩ", "5.8 mA at 105 V", Mark::undecided},
                 {"turn-off delay", "≤ 160 kΩ", "0.06 ms of 0.50 ms", Mark::fail}};
    step.verdict = VerdictView{Mark::pass, "18 kΩ, 5 W, 250 V or more",
                               "Mount it away from wire bundles: it runs warm.", ""};
    step.picture = demo_wiring(space);
    step.why = "A separate contact leaves the input open when it rests.";
    step.history = {{"09:58", "AB", "Wiring chosen: separate output"}};
    step.actions = actions("Fitted, as drawn");
    view.step = step;
    return view;
}

SheetView purge(PictureSpace space)
{
    SheetView view = sheet_at(6, "0 h 58 of 1 h 55");
    StepView step;
    step.id = "purge.log";
    step.where = "Tight, purge   step 4 of 9";
    step.title = "Purge until the purity stops rising";
    step.fields = {field("purity", "Purity now", "99.05", "% vol")};
    step.countdown = "1:24";
    step.countdown_label = "Next reading in";
    step.readings = {"10:02   61.0 %", "10:04   79.4 %", "10:06   88.9 %", "10:08   93.9 %",
                     "10:10   96.5 %", "10:12   97.9 %", "10:14   98.4 %", "10:16   98.8 %",
                     "10:18   99.0 %", "10:20   99.1 %"};
    step.verdict = VerdictView{Mark::pass, "On the plateau, above the limit",
                               "The last 4 readings differ by less than the analyser can tell. 0.11 kg "
                               "vented so far: entered as handling loss.",
                               ""};
    step.picture = demo_purge(space);
    step.why = "Air left in the pipe would count as gas in every later reading.";
    step.working = {{"purity = plateau − a exp(−t / τ)", "99.1 % − 38.1 % × exp(−t / 3.0 min)",
                     "least squares over 10 readings"}};
    step.actions = {{"back", "Back", "", false, true, false},
                    {"add", "Add reading", "", false, true, false},
                    {"record", "End purge", "", true, true, false}};
    view.step = step;
    return view;
}

SheetView purge_due(PictureSpace space)
{
    SheetView view = purge(space);
    view.step->countdown = "0:00";
    view.step->reading_due = true;
    return view;
}

SheetView confirm(PictureSpace)
{
    SheetView view = sheet_at(1, "0 h 09 of 1 h 55");
    StepView step;
    step.id = "safe.springs";
    step.where = "Make safe   step 5 of 8";
    step.title = "Both springs are discharged";
    step.text =
        "Look at both indicators from the front of the drive. Say what they show, not what they should show.";
    step.cautions = {
        {"Stored energy",
         "A charged spring moves the drive without warning. Keep hands, tools and clothing out until both "
         "indicators have been seen. Follow the maker's instructions and local rules."}};
    step.answers = {{"discharged", "Both show discharged", false},
                    {"one", "One still shows charged", false},
                    {"unseen", "I cannot see both", false}};
    step.why = "The closing spring can be discharged while the opening spring still holds its charge, and "
               "the other way round. Each has its own indicator.";
    step.wrong = "Leave the drive closed. Discharge by the maker's procedure with the cabinet door shut, "
                 "then look again.";
    step.source = "Common practice, no source. The maker's instructions come first.";
    step.actions = {{"back", "Back", "", false, true, false},
                    {"later", "Not now", "say why", false, true, false},
                    {"record", "Record", "", true, false, false}};
    view.step = step;
    return view;
}

SheetView locked(PictureSpace)
{
    SheetView view = sheet_at(5, "0 h 44 of 1 h 55");
    view.line[1].closed = false;
    view.line[1].flag = "1 open";
    view.line[1].flag_mark = Mark::fail;
    StepView step;
    step.id = "gas.open";
    step.where = "Gas joint   step 1 of 6";
    step.title = "Open the gas port";
    step.text = "Remove the cap and look at the seal face before anything is screwed on.";
    step.cautions = {
        {"Gas under pressure", "Stand to the side of the port. Wear eye protection and gloves."},
        {"Decomposition products",
         "White powder means the gas has arced. Stop, leave the area and follow the local procedure."}};
    step.locked = "Make safe, step 7: the earths are on. Mount, step 6: swarf removed.";
    step.fields = {field("gauge", "Gauge before opening", "", "bar g"),
                   field("thread", "Thread seen", "", "")};
    step.why = "Nothing below this hold point opens until the bay is safe: the port is within reach of parts "
               "that may be live or move.";
    step.source = "Checklist gas.json, needs: safe.earths, mount.swarf";
    step.actions = {{"back", "Back", "", false, true, false},
                    {"goto", "Go to what is open", "", true, true, false}};
    view.step = step;
    return view;
}

SheetView recorded(PictureSpace space)
{
    SheetView view = fill(space);
    view.step->recorded = true;
    view.step->fields[0].hint = "expected 4.63 ± 0.05 bar g";
    view.step->verdict = VerdictView{Mark::fail, "Outside what was expected",
                                     "4.61 bar g is read, 4.94 ± 0.03 bar g was expected for 0.72 kg added.",
                                     "Check the cart valve and read again, or correct the mass added."};
    view.step->actions = {{"back", "Back", "", false, true, false},
                          {"correct", "Correct", "", false, true, false},
                          {"override", "Override", "", false, true, true},
                          {"next", "Next step", "", true, true, false}};
    view.open_panel = "history";
    return view;
}

SheetView working(PictureSpace space)
{
    SheetView view = fill(space);
    view.open_panel = "working";
    return view;
}

SheetView long_step(PictureSpace)
{
    SheetView view = sheet_at(0, "0 h 02 of 1 h 55");
    StepView step;
    step.id = "prepare.nameplate";
    step.where = "Prepare   step 2 of 12";
    step.title = "What the nameplate says of the breaker and of its gas";
    step.text = "Read each figure from the plate on the breaker itself, not from a drawing. Where the plate "
                "and the profile differ, the plate is right and the profile needs a revision.";
    step.fields = {field("mass", "Mass of gas on the plate", "12.5", "kg"),
                   field("nominal", "Filling pressure at 20 °C", "0.62", "MPa abs"),
                   field("warn", "Warning pressure at 20 °C", "", "MPa abs"),
                   field("lockout", "Lockout pressure at 20 °C", "", "MPa abs"),
                   field("serial", "Serial number", "KD41-2207-0815-EXTRA", "")};
    step.fields[0].hint = "profile says 12.4 kg";
    step.fields[1].problem =
        "0.62 MPa is above the 0.60 MPa of the profile: check whether the plate means gauge or absolute.";
    step.notes = {"Photograph the plate: the photo goes into the record.",
                  "Units are kept as they stand on the plate."};
    step.why = "Everything computed later rests on these figures.";
    step.source = "Nameplate of the breaker.";
    step.verdict =
        VerdictView{Mark::overridden, "Passed by decision of M. Example",
                    "Reason given: the plate was replaced in 2019, the test report is attached.", ""};
    step.actions = actions("Record plate");
    view.step = step;
    return view;
}

SheetView jobs(PictureSpace)
{
    SheetView view;
    view.product_line = "Isochore  0.1.0";
    ListView list;
    list.heading = "Jobs";
    list.notice = VerdictView{
        Mark::undecided, "A job was interrupted",
        "AF-Q07-112 stopped at step 3 of Fill, last entry 10:42 by AB. All entries are kept.", ""};
    list.searchable = true;
    list.rows = {{"a", "AF-Q07-112", "Alder Ferry  Q07  KD-41", "Fill, 3 of 7", Mark::open, true},
                 {"b", "AF-Q06-111", "Alder Ferry  Q06  KD-41", "sealed 2026-10-02", Mark::pass, true},
                 {"c", "BM-Q01-007",
                  "Birch Moor  Q01  LV-12 with a rather long description that has to wrap somewhere",
                  "2 later", Mark::deferred, true},
                 {"d", "BM-Q02-008", "Birch Moor  Q02  LV-12", "not begun", Mark::open, true},
                 {"e", "CW-Q11-031", "Cold Weir  Q11  KD-41", "failed, open", Mark::fail, true},
                 {"f", "CW-Q12-032", "Cold Weir  Q12  KD-41", "sealed 2026-08-19", Mark::pass, true}};
    list.actions = {{"new", "New job", "", true, true, false},
                    {"library", "Profiles", "", false, true, false},
                    {"settings", "Settings", "", false, true, false}};
    view.list = list;
    return view;
}

SheetView jump(PictureSpace)
{
    SheetView view = sheet_at(7, "1 h 12 of 1 h 55");
    ListView list;
    list.heading = "Steps";
    list.text = "Hold points block; the rest may be done in any order.";
    for (int i = 1; i <= 40; ++i) {
        Mark const mark = i < 20    ? Mark::pass
                          : i == 20 ? Mark::deferred
                          : i == 23 ? Mark::not_applicable
                          : i < 30  ? Mark::open
                                    : Mark::locked;
        std::string const number = std::to_string(i);
        list.rows.push_back(
            {number, "Step number ", i % 3 == 0 ? "waits for step 12" : "", "", mark, i < 36});
        list.rows.back().title.append(number).append(" of the outage");
        if (i < 20)
            list.rows.back().side.append(number).append(" min ago  AB");
    }
    list.actions = {{"back", "Back", "", false, true, false}};
    view.list = list;
    return view;
}

SheetView large(PictureSpace space)
{
    SheetView view = fill(space);
    view.open_panel = "picture";
    return view;
}

SheetView menu(PictureSpace)
{
    SheetView view = sheet_at(3, "0 h 21 of 1 h 55");
    ListView list;
    list.heading = "This outage";
    for (char const* title : {"All steps", "All entries", "Take back the last entry", "Who is entering",
                              "Write the stick", "Review and sign", "Settings", "Cautions and about"})
        list.rows.push_back({title, title, "what it does, in a few words", "", Mark::none, true});
    list.actions = {{"back", "Back", "", true, true, false}};
    view.list = list;
    return view;
}

SheetView reading(PictureSpace space)
{
    SheetView view = menu(space);
    view.list->heading = "Cautions";
    for (auto& row : view.list->rows) {
        row.enabled = false;
        row.detail = "An open secondary under load reaches thousands of volts. Short it first; a clip-on "
                     "coil needs no opening at all. Local codes and licensed practice come first.";
    }
    return view;
}

SheetView empty_list(PictureSpace)
{
    SheetView view;
    view.product_line = "Isochore  0.1.0";
    ListView list;
    list.heading = "Sticks";
    list.text = "Put in the stick that goes to the unit.";
    list.empty = "No stick is in the tablet. It appears here as soon as it is read.";
    list.actions = {{"back", "Back", "", false, true, false}};
    view.list = list;
    return view;
}

SheetView table(PictureSpace)
{
    SheetView view;
    view.product_line = "Isochore  0.1.0";
    TableView t;
    t.heading = "Gas by breaker";
    t.text = "Every kilogram in and out since the year began.";
    t.filters = {{"year", "Year", "2026", true}, {"gas", "Gas", "any", false}};
    t.columns = {{"Breaker", 2.2, false}, {"In, kg", 1.0, true}, {"Out, kg", 1.0, true}, {"Why", 2.4, false}};
    t.rows = {{"g1", {"Alder Ferry"}, Mark::none, false, false},
              {"q07", {"Q07  KD-41", "0.71", "0.00", "topped up in AF-Q07-112"}, Mark::pass, true, false},
              {"q06",
               {"Q06  KD-41", "1.02", "0.12",
                "weighing and density disagree by more than both can be "
                "wrong"},
               Mark::undecided,
               true,
               false},
              {"g2", {"Birch Moor"}, Mark::none, false, false},
              {"q01", {"Q01  LV-12", "0.00", "6.30", "recovered"}, Mark::fail, false, false},
              {"sum", {"All", "1.73", "6.42", ""}, Mark::none, false, true}};
    t.actions = {{"back", "Back", "", false, true, false}, {"add", "Add an entry", "", true, true, false}};
    view.table = t;
    return view;
}

// As long as a large library.
SheetView long_table(PictureSpace space)
{
    SheetView view = table(space);
    view.table->notice = VerdictView{Mark::undecided, "Nine rows were not taken over", "Each says why.", ""};
    for (int i = 0; i < 400; ++i) {
        std::string const n = std::to_string(i);
        view.table->rows.push_back({"r" + n, {"Row " + n, n, n, "taken over"}, Mark::pass, false, false});
    }
    return view;
}

SheetView filtered(PictureSpace space)
{
    SheetView view = jobs(space);
    view.list->notice.reset();
    view.list->filters = {{"mechanism", "Mechanism", "spring", true},
                          {"voltage", "Voltage class", "any", false},
                          {"gas", "Gas", "SF6", true},
                          {"frequency", "Frequency", "any", false},
                          {"cycles", "Cycles", "any", false},
                          {"status", "Status", "released", true}};
    return view;
}

SheetView form(PictureSpace)
{
    SheetView view;
    view.product_line = "Isochore  0.1.0";
    FormView f;
    f.heading = "New job";
    f.text = "One job is one breaker in one outage.";
    f.answers_label = "Profile";
    f.answers = {{"kd41", "KD-41 revision 3", true}, {"lv12", "LV-12 revision 1", false}};
    f.fields = {field("job", "Job number", "AF-Q07-112", ""),
                field("station", "Station", "Alder Ferry", ""),
                field("bay", "Bay", "Q07", ""),
                field("breaker", "Breaker", "", ""),
                field("window", "Outage window", "115", "min"),
                field("altitude", "Altitude", "240", "m")};
    f.actions = {{"back", "Back", "", false, true, false}, {"start", "Start the job", "", true, true, false}};
    view.form = f;
    return view;
}

EntryView number_entry()
{
    EntryView e;
    e.context = "Bring the gas to its filling density";
    e.label = "Gauge now";
    e.typed = "4.61";
    e.unit = "bar g";
    e.units = {"bar g", "MPa g", "kPa g", "psi g", "MPa abs"};
    e.echo = "4.61 bar gauge = 0.562 MPa absolute";
    e.can_enter = true;
    return e;
}

SheetView keypad(PictureSpace space)
{
    SheetView view = fill(space);
    view.entry = number_entry();
    return view;
}

SheetView keypad_slip(PictureSpace space)
{
    SheetView view = fill(space);
    view.entry = number_entry();
    view.entry->typed = "49.4";
    view.entry->echo = "49.4 bar gauge = 5.04 MPa absolute";
    view.entry->question = "Ten times the expected 4.94 bar g. Is it really 49.4?";
    return view;
}

SheetView keypad_problem(PictureSpace space)
{
    SheetView view = fill(space);
    view.entry = number_entry();
    view.entry->context = "Type the filling pressure at 20 °C as it stands on the plate, with its own unit and reference.";
    view.entry->label = "Type the plate's filling pressure";
    view.entry->typed = "74";
    view.entry->unit = "MPa abs";
    view.entry->units = {"MPa abs", "bar abs", "MPa g", "bar g", "psi g"};
    view.entry->echo = "74 MPa absolute = 74.0 MPa absolute";
    view.entry->problem = "74 MPa abs is not possible here: it must be between 0 MPa abs and 2 MPa abs.";
    view.entry->can_enter = false;
    return view;
}

SheetView keyboard(PictureSpace space)
{
    SheetView view = form(space);
    EntryView e;
    e.context = "New job";
    e.label = "Station";
    e.typed = "Alder F";
    e.text = true;
    e.suggestions = {"Alder Ferry", "Alder Fen", "Alderman's Cross"};
    e.can_enter = true;
    view.entry = e;
    return view;
}

SheetView pin(PictureSpace space)
{
    SheetView view = fill(space);
    EntryView e;
    e.context = "Override: outside what was expected";
    e.label = "PIN of M. Example";
    e.typed = "1234";
    e.secret = true;
    e.can_enter = false;
    e.problem = "At least six digits.";
    view.entry = e;
    return view;
}

SheetView question(PictureSpace space)
{
    SheetView view = fill(space);
    QuestionView q;
    q.title = "Why not now?";
    q.text = "The step stays open and must be closed before Hand back. Say what it waits for.";
    q.actions = {{"cancel", "Cancel", "", false, true, false},
                 {"gas", "Gas is settling", "", false, true, false},
                 {"other", "Another reason", "", true, true, false}};
    view.question = q;
    return view;
}

SheetView progress(PictureSpace)
{
    SheetView view = sheet_at(8, "1 h 31 of 1 h 55");
    view.progress = ProgressView{
        "Writing the stick",
        "12 of 18 files written and read back. The former set stays valid until the new one is complete.",
        0.64, true};
    return view;
}

SheetView sign(PictureSpace)
{
    SheetView view = sheet_at(10, "1 h 52 of 1 h 55");
    for (auto& stage : view.line)
        stage.closed = true;
    SignView s;
    s.heading = "Review and sign";
    s.meaning = "By signing I say that the entries of this record are what was done and seen, and that the "
                "deviations below are known to me.";
    s.facts = {{"Steps done", "68 of 71", ""},
               {"Overridden", "1", ""},
               {"Put off", "1", ""},
               {"Time used", "1 h 52", "of 1 h 55"}};
    s.deviations = {{"Fill, 3", "", "overridden: plate replaced", Mark::overridden},
                    {"Currents, 5", "", "put off: load too low, closed by 2026-12-15", Mark::deferred},
                    {"Mount, 2", "", "does not apply", Mark::not_applicable}};
    s.signers = {{"ab", "A. Beispiel, crew", true}, {"mm", "M. Example, supervisor", false}};
    s.pin_dots = "●●●●●●";
    s.strokes = {{{0.1, 0.6},
                  {0.14, 0.3},
                  {0.2, 0.2},
                  {0.22, 0.5},
                  {0.24, 0.7},
                  {0.3, 0.4},
                  {0.35, 0.45},
                  {0.37, 0.65},
                  {0.45, 0.4},
                  {0.5, 0.6},
                  {0.6, 0.5},
                  {0.8, 0.42}}};
    s.actions = {{"back", "Back", "", false, true, false},
                 {"clear", "Clear signature", "", false, true, false},
                 {"seal", "Sign and seal", "", true, true, true}};
    view.sign = s;
    return view;
}

SheetView sealed(PictureSpace space)
{
    SheetView view = sign(space);
    view.sign->sealed = true;
    view.sign->sealed_lines = {"Sealed 2026-11-25 12:02 UTC",
                               "Signed by A. Beispiel, crew",
                               "Head of the chain",
                               "9f2c 41d0 77aa 3be8 1c55 90fe 02d3 6a1b",
                               "b7c4 e2f9 5d10 88a3 f46e 2b97 c0de 7715",
                               "AFQ07112.PDF  12 pages",
                               "AFQ07112.JSN  the record itself",
                               "Tampering shows; who held the tablet does not."};
    view.sign->actions = {{"back", "Back", "", false, true, false},
                          {"stick", "Write to stick", "", true, true, false}};
    return view;
}

} // namespace

std::vector<Sheet> sheets()
{
    return {{"fill", fill},
            {"timing", timing},
            {"purge", purge},
            {"due", purge_due},
            {"confirm", confirm},
            {"locked", locked},
            {"recorded", recorded},
            {"working", working},
            {"long", long_step},
            {"jobs", jobs},
            {"jump", jump},
            {"table", table},
            {"long_table", long_table},
            {"filtered", filtered},
            {"empty", empty_list},
            {"large", large},
            {"menu", menu},
            {"reading", reading},
            {"form", form},
            {"keypad", keypad},
            {"slip", keypad_slip},
            {"keypad-problem", keypad_problem},
            {"keyboard", keyboard},
            {"pin", pin},
            {"question", question},
            {"progress", progress},
            {"sign", sign},
            {"sealed", sealed}};
}

} // namespace isochore::demo
