#pragma once
#include "drawing/line_diagram.h"
#include "drawing/marks.h"
#include "drawing/picture.h"
#include "language/places.h"
#include <functional>
#include <optional>
#include <string>
#include <vector>

/// The commissioning record as a tree of plain texts, ready to print. Whoever fills it has already formatted
/// every value with its unit; nothing here computes, parses or knows the journal. Empty texts print as
/// nothing, empty lists leave their heading out.
namespace isochore::report {

enum class Paper { a4, letter };

/// A name and a value of page one ("Serial number", "KD-41-0093").
struct Fact {
    std::string label, value;
};

/// The title block on every sheet.
struct SheetBlock {
    std::string station, bay, breaker, job;
    std::string drawing_number, revision; ///< of the record itself
    std::string organisation;             ///< may be empty
};

/// One line of the result summary. Printed worst first: fail, undecided, overridden, deferred, then the
/// rest, each group in the order given.
struct SummaryLine {
    drawing::Mark mark = drawing::Mark::none;
    std::string what;   ///< "Leak rate"
    std::string value;  ///< "0.21 ± 0.30 % a year"
    std::string limit;  ///< "≤ 0.5 % a year"
    std::string reason; ///< one sentence; may be empty
};

/// Something that is not as the checklist asks: an override, a deferral, an undecided or failed step.
struct Deviation {
    drawing::Mark mark = drawing::Mark::overridden;
    std::string step;  ///< "8.3 Bring the gas to its filling density"
    std::string what;  ///< what deviates, with its figures
    std::string why;   ///< reason as written by the person
    std::string who;   ///< name and role of who decided
    std::string when;  ///< date, time and zone
    std::string owner; ///< who closes it, and before what; for deferrals
};

/// A signature. `strokes` are the drawn signature, 0 to 1 of its pad, y downward; may be empty.
struct Signature {
    std::string name, role;
    std::string when;    ///< date, time and zone
    std::string meaning; ///< "I have reviewed this record and accept the work"
    std::string detail;  ///< key fingerprint or the like; may be empty
    std::vector<std::vector<drawing::Point>> strokes;
};

/// An earlier entry of a step that a later one corrects.
struct Correction {
    std::string old_value; ///< printed struck through
    std::string who, when, why;
};

struct WorkingLine {
    std::string formula, numbers, source;
};

/// One input's part in the uncertainty of a result.
struct BudgetLine {
    std::string input;  ///< "gauge, class 0.6"
    std::string text;   ///< "0.009 bar, rectangular"
    double share = 0.0; ///< of the variance, 0 to 1
};

/// One step of a stage.
struct StepRow {
    std::string number; ///< "8.3"
    std::string title;
    std::string value;    ///< seen, exactly as typed with its unit; or the answer chosen
    std::string expected; ///< prediction with its interval
    std::string limit;
    std::string limit_source;
    std::optional<bool> limit_confirmed; ///< confidence of the limit; absent: there is no limit
    drawing::Mark mark = drawing::Mark::none;
    std::string verdict; ///< the word; empty: mark_word(mark)
    std::string reason;
    std::string who, when;
    std::string instrument;         ///< with its calibration due date
    std::vector<std::string> notes; ///< override, deferral, condition, attachment with its hash
    std::vector<Correction> corrections;
    std::vector<WorkingLine> working;
    std::vector<BudgetLine> budget;
};

/// A table of free columns: a log's readings, the unit's settings, the instruments, the gas ledger.
struct RecordTable {
    std::string title;
    std::vector<std::string> heads;
    std::vector<bool> right; ///< columns set flush right; missing ones are flush left
    std::vector<std::vector<std::string>> rows;
    std::string closing; ///< a line under the table: the sum, the balance; may be empty
};

/// A picture of the record. `draw` is asked for a larger one, which is shrunk to the size given here, since
/// paper is read closer than a screen.
struct RecordPicture {
    std::string caption;
    double width_mm = 110.0, height_mm = 75.0;
    std::function<drawing::Picture(double width_mm, double height_mm, drawing::MeasureText const&)> draw;
};

struct RecordStage {
    std::string number, title; ///< "8", "Fill"
    std::string state;         ///< "closed 14:05 by R. Dahl" or what is open
    std::vector<StepRow> steps;
    std::vector<RecordTable> tables;
    std::vector<RecordPicture> pictures;
};

struct RecordDocument {
    Paper paper = Paper::a4;
    std::string title = "Commissioning record";
    std::string
        subtitle;        ///< "Density sensor, current pick-ups and timing inputs fitted to SF6 breaker KD-41"
    std::string created; ///< RFC 3339, "2026-11-25T14:05:00Z": printed, and the file's creation date
    std::string author;  ///< for the file's properties; may be empty
    bool draft = false;  ///< not sealed yet: said on every sheet
    bool invented = false; ///< from a demo model: said on every sheet
    SheetBlock block;
    std::vector<drawing::LineStage> line; ///< the outage line at the head of sheet one
    std::vector<Fact> facts;
    std::vector<std::string> done; ///< what was done, one sentence a paragraph
    std::vector<SummaryLine> summary;
    std::vector<Deviation> deviations;
    std::vector<Signature> signatures;
    std::vector<RecordStage> stages;
    std::vector<RecordTable> ledgers; ///< gas, instruments, parts: after the stages
    std::string hash; ///< lower-case hex of the record's chain head; printed in groups and in the QR code
    std::string hash_label = "Record hash (SHA-256)";
    std::string qr_text;             ///< what the QR code holds; empty: the hash
    std::string footer;              ///< the wording on tamper evidence, printed on every sheet
    language::Translate translate{}; ///< for the sheets' own words; the rest is in the language already
};

} // namespace isochore::report
