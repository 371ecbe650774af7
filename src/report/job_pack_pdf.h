#pragma once
#include "drawing/marks.h"
#include "drawing/time_plan.h"
#include "quantity/result.h"
#include "report/record_document.h"
#include "report/sheet.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::report {

/// One thing to bring. Printed with an empty box to tick by hand.
struct KitLine {
    std::string quantity; ///< "2 pcs", "12 m"
    std::string part;     ///< "resistor 18 kΩ, 5 W, 250 V"
    std::string purpose;  ///< where its kind and quantity are from: "Resistor across the trip input"
    std::string cost;     ///< "3.20 EUR"; may be empty
    std::string note;     ///< supplier's number, what was not known when this was written; may be empty
};

/// A group of the kit list: "Wiring", "Gas", "Instruments".
struct KitGroup {
    std::string title;
    std::vector<KitLine> lines;
};

/// One stage of the time plan, in minutes from the start of the outage.
struct PlanLine {
    std::string stage;
    double start_min = 0.0;                                 ///< likely start
    double low_min = 0.0, likely_min = 0.0, high_min = 0.0; ///< duration
    std::string note;                                       ///< who, what it waits for; may be empty
    std::optional<double> finish_min{}; ///< as planned; else the likely duration after the start
    int people = 1;                     ///< 0: time that passes by itself
    bool critical = false;              ///< a delay of it delays the end
};

struct PackCaution {
    std::string title, text;
};

/// The job pack of stage 1: what to bring, how the time goes, what can hurt, what is still unknown.
struct JobPack {
    Paper paper = Paper::a4;
    std::string title = "Job pack";
    std::string subtitle;
    std::string created; ///< RFC 3339
    std::string author;
    bool invented = false;
    SheetBlock block;
    std::vector<Fact> facts;
    std::vector<std::string> unknown; ///< what must still be found out, each with why it matters
    std::vector<KitGroup> kit;
    std::string kit_total; ///< "Parts 412.50 EUR; gas 2.1 kg"; may be empty
    std::vector<PlanLine> plan;
    double window_min = 0.0; ///< length of the outage; 0: not known
    std::optional<drawing::PlannedEnd> plan_end{};
    /// What the plan comes to, each with its mark: "chance of finishing inside 240 min: 99.5 %, 90 % wanted".
    std::vector<std::pair<drawing::Mark, std::string>> plan_results;
    std::vector<PackCaution> cautions;
    std::vector<RecordTable> tables;     ///< survey, instruments with due dates, wires, crew
    std::vector<RecordPicture> pictures; ///< the chain, the wiring, the resistor's window
    std::string footer;
    language::Translate translate{}; ///< for the sheets' own words; the rest is in the language already
};

/// The job pack as the bytes of a PDF file. Equal packs give equal bytes. Errors as record_pdf.
[[nodiscard]] Result<std::string> job_pack_pdf(JobPack const& pack);

/// The sheets of the job pack as display lists in mm.
[[nodiscard]] std::vector<Sheet> job_pack_sheets(JobPack const& pack, drawing::MeasureText const& measure);

/// The time plan as a bar chart against the outage window, for paper.
[[nodiscard]] drawing::Picture plan_picture(JobPack const& pack, double width_mm,
                                            drawing::MeasureText const& measure);

} // namespace isochore::report
