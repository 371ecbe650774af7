#pragma once
#include "drawing/marks.h"
#include "drawing/picture.h"
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

/// What the screens are given to draw, and what they give back. Plain values: no database, clock, device or
/// calculation is known here. All state, also half-typed text and which overlay is open, lives in the app; a
/// screen keeps nothing but scroll positions.
namespace isochore::screens {

using drawing::Mark;

struct StageView {
    std::string id, label;
    bool closed = false; ///< its switching device is closed: the stage is done
    bool current = false;
    bool reachable = true;
    std::string flag; ///< small word above the device ("1 later", "1 failed"); may be empty
    Mark flag_mark = Mark::none;
    std::string progress; ///< "3 of 7"
};

struct TitleBlockView {
    std::string station, bay, breaker, job, time_used, revision;
    std::string slack_name{}, slack{}; ///< "Slack, chance 82 %", "0 h 35, gas by 15:20"; empty: no plan
    bool slack_bad = false;            ///< over-run, or too late for what must not be begun: framed heavily
};

struct VerdictView {
    Mark mark = Mark::none;
    std::string title; ///< "Cannot tell yet"
    std::string text;  ///< the reason with its numbers
    std::string remedy;
};

struct FieldView {
    std::string id, label;
    std::string typed; ///< exactly as typed, or empty
    std::string unit;  ///< "bar g"
    bool active = false;
    std::string hint;    ///< "expected 4.94 ± 0.03 bar g"
    std::string problem; ///< what is wrong with what is typed, in words
};

struct ResultView {
    std::string label, value, uncertainty; ///< "Add", "0.72 kg", "± 0.09 kg"
};

struct AnswerView {
    std::string id, label;
    bool chosen = false;
};

/// One row of a table beside a picture ("heat, 5 W part", "≥ 7.8 kΩ", "1.09 W of 2.5 W", pass).
struct RowView {
    std::string label, limit, value;
    Mark mark = Mark::none;
};

struct CautionView {
    std::string title, text;
};

struct WorkingView {
    std::string formula, numbers, source;
};
struct BudgetView {
    std::string input, text;
    double share = 0.0;
};

struct ActionView {
    std::string id;    ///< "record", "later", "back", "override", "next"
    std::string label; ///< "Record reading"
    std::string small; ///< "say why"; may be empty
    bool primary = false, enabled = true;
    bool hold = false; ///< must be held: it cannot be taken back
};

struct HistoryView {
    std::string when, who, what;
};

/// The step in hand.
struct StepView {
    std::string id, where, title, text; ///< where: "Fill  step 3 of 7"
    std::vector<CautionView> cautions;
    std::string why, wrong, source;
    std::string locked; ///< what unlocks it; empty when open
    std::vector<FieldView> fields;
    std::vector<AnswerView> answers;
    std::vector<ResultView> results;
    std::vector<RowView> rows;
    std::optional<VerdictView> verdict;
    std::optional<drawing::Picture> picture; ///< drawn to the size the screen said it has (PictureSpace)
    std::vector<std::string> readings;       ///< a log's readings as lines, the latest last
    std::string countdown, countdown_label;  ///< "1:24", "Next reading in"
    bool reading_due = false;        ///< the countdown has run out: it stands out until a reading comes
    std::vector<ActionView> actions; ///< left to right; at most four
    std::vector<WorkingView> working;
    std::vector<BudgetView> budget;
    std::vector<HistoryView> history;
    std::vector<std::string> notes;
    bool recorded = false; ///< closed already: shows what was recorded, offers correction
};

/// The keypad or keyboard over the sheet. What is typed is in the app; keys come back as Intent::key.
struct EntryView {
    std::string label; ///< "Gauge now"
    std::string typed; ///< "4.61"
    std::string unit;  ///< chosen chip
    std::vector<std::string> units;
    std::vector<std::string> unit_labels{}; ///< what the chips of the units say; empty: the units as they are
    std::string echo;     ///< the value in words of its unit: "4.61 bar gauge = 0.562 MPa absolute"
    std::string problem;  ///< blocks: in words, with what to do
    std::string question; ///< unlikely: "Ten times the expected 4.9. Is it really 49?"
    bool text = false;    ///< letters: a full keyboard instead of digits
    bool secret = false;  ///< a PIN: dots only
    std::vector<std::string> suggestions;
    bool can_enter = false;
    std::string context; ///< step title, so that one knows what is being typed
    /// What a calculation would answer with the value as it stands: "Check every joint: within limits".
    std::optional<VerdictView> foreseen;
};

struct ListRow {
    std::string id, title, detail, side;
    Mark mark = Mark::none;
    bool enabled = true;
    std::string group{};          ///< rows of one group follow each other under its name
    std::optional<bool> chosen{}; ///< one of a group is: drawn as answers are
};

/// What a list or table is narrowed down to, one box a property: "Mechanism: spring". A tap asks for another.
struct FilterView {
    std::string id, label;
    std::string value; ///< what it is set to, or the word for "any"
    bool on = false;
};

/// A sheet with one list and actions: jobs, jump list, library, people, targets, review, history, settings.
struct ListView {
    std::string heading, text, search; ///< search as typed; shown when `searchable`
    bool searchable = false;
    std::vector<FilterView> filters;
    std::vector<ListRow> rows;
    std::string empty; ///< what to say when there are no rows
    std::vector<ActionView> actions;
    std::optional<VerdictView> notice; ///< a warning above the list: read-only store, resumed job
};

struct TableColumn {
    std::string heading;
    double share = 1.0;  ///< of the width, against the other columns
    bool number = false; ///< stands to the right, figures below each other
};

struct TableRow {
    std::string id;
    std::vector<std::string> cells; ///< one a column; a row with a single cell is the heading of a group
    Mark mark = Mark::none;
    bool enabled = false; ///< can be tapped
    bool total = false;   ///< ruled off from what is above it
};

/// A sheet with a ruled table: ledger, comparison, read-back, the report of an import.
struct TableView {
    std::string heading, text;
    std::vector<FilterView> filters;
    std::vector<TableColumn> columns;
    std::vector<TableRow> rows;
    std::string empty;
    std::vector<ActionView> actions;
    std::optional<VerdictView> notice;
};

/// A sheet of labelled fields, each opened in the keypad or the keyboard: new job, unit values, new person.
struct FormView {
    std::string heading, text;
    std::vector<FieldView> fields;
    std::vector<AnswerView> answers; ///< a choice above the fields (profile, role)
    std::string answers_label;
    std::optional<VerdictView> verdict;
    std::vector<ActionView> actions;
};

/// Running work: writing the stick, making the PDF.
struct ProgressView {
    std::string heading, text;
    double done = 0.0; ///< 0..1
    bool can_cancel = false;
};

/// Review and sign.
struct SignView {
    std::string heading, meaning;    ///< what the signature means, in words
    std::vector<RowView> deviations; ///< worst first
    std::vector<ResultView> facts;   ///< steps done, overridden, deferred, time
    std::vector<AnswerView> signers;
    std::string pin_dots, problem;
    std::vector<std::vector<drawing::Point>> strokes; ///< drawn signature, 0..1 of the pad
    bool sealed = false;
    std::vector<std::string> sealed_lines; ///< head hash, files
    std::vector<ActionView> actions;
};

struct QuestionView {
    std::string title, text;
    std::vector<ActionView> actions;
};

/// The few words the screens bring themselves, so that they can be in the language of the rest.
struct WordsView {
    std::string why = "Why", working = "Working", history = "History", picture = "Picture";
    std::string if_wrong = "If it goes wrong", source = "Source", locked = "Locked", recorded = "Recorded";
    std::string enter_value = "tap to enter", search = "Search", hold = "hold";
    std::string station = "Station", bay = "Bay", breaker = "Breaker", job = "Job", used = "Time used",
                revision = "Rev.", sheet = "Sheet";
    std::string enter = "Enter", cancel = "Cancel", clear = "Clear", space = "space", shift = "Shift",
                signs = "ÄÖ #";
    std::string readings = "Readings", budget = "What the uncertainty is made of", signature = "Sign here",
                pin = "PIN", signer = "Signed by", deviations = "Deviations, worst first", none = "None";
};

/// All that is on the sheet now. Exactly one of step, list, table, form, progress, sign is set; entry and
/// question lie over it.
struct SheetView {
    std::vector<StageView> line; ///< empty outside a job
    std::optional<TitleBlockView> block;
    std::string product_line; ///< shown in the title block place outside a job
    std::optional<StepView> step;
    std::optional<ListView> list;
    std::optional<TableView> table;
    std::optional<FormView> form;
    std::optional<ProgressView> progress;
    std::optional<SignView> sign;
    std::optional<EntryView> entry;
    std::optional<QuestionView> question;
    WordsView words;
    bool busy = false;
    double picture_zoom = 1.0; ///< of a picture spread over the sheet: the app draws it to that space
    std::string open_panel; ///< "working", "why", "history": panel over the picture of a step; "picture": the
                            ///< picture spread over the sheet; "": none
};

/// The one thing the person asked for in a frame.
struct Intent {
    enum class Kind {
        none,
        stage,      ///< id: stage tapped on the line
        action,     ///< id: action
        field,      ///< id: field tapped
        answer,     ///< id: answer tapped
        row,        ///< id: row of a list or table tapped
        filter,     ///< id: filter tapped
        key,        ///< text: character typed; or "backspace", "clear", "sign", "enter", "cancel"
        unit,       ///< text: unit chip tapped
        suggestion, ///< text
        panel,      ///< id: "working", "why", "history", "picture", "" to close
        zoom,       ///< text: "in" or "out": the picture spread over the sheet
        stroke,     ///< strokes: the signature pad as it is now
    };
    Kind kind = Kind::none;
    std::string id, text;
    std::vector<std::vector<drawing::Point>> strokes;
};

/// Where the picture of a step goes, in mm; the app asks before it builds the view.
struct PictureSpace {
    double width_mm = 0.0, height_mm = 0.0;
};

} // namespace isochore::screens
