#include "screens/demo_sheets.h"

namespace isochore::demo {

using namespace screens;

namespace {

// Every word of four letters or more grows by about a third, as it would in German: "Record" becomes
// "Recordungs".
void grow(std::string& text)
{
    std::string const endings = "ungsverfahren";
    std::string grown, word;
    auto const flush = [&] {
        bool letters = !word.empty();
        for (char const c : word)
            letters = letters && ((c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'));
        if (letters && word.size() >= 4)
            word += endings.substr(0, (word.size() + 1) / 3);
        grown += word;
        word.clear();
    };
    for (char const c : text) {
        if (c == ' ' || c == ',' || c == '.' || c == ':' || c == ';') {
            flush();
            grown += c;
        } else {
            word += c;
        }
    }
    flush();
    text = grown;
}

void grow(std::optional<VerdictView>& verdict)
{
    if (!verdict)
        return;
    grow(verdict->title);
    grow(verdict->text);
    grow(verdict->remedy);
}

void grow(std::vector<ActionView>& actions)
{
    for (auto& a : actions) {
        grow(a.label);
        grow(a.small);
    }
}

void grow(std::vector<FieldView>& fields)
{
    for (auto& f : fields) {
        grow(f.label);
        grow(f.hint);
        grow(f.problem);
    }
}

void grow(std::vector<AnswerView>& answers)
{
    for (auto& a : answers)
        grow(a.label);
}

void grow(std::vector<RowView>& rows)
{
    for (auto& r : rows) {
        grow(r.label);
        grow(r.value);
    }
}

void grow(std::vector<ResultView>& results)
{
    for (auto& r : results)
        grow(r.label);
}

void grow(StepView& step)
{
    for (auto* text : {&step.where, &step.title, &step.text, &step.why, &step.wrong, &step.source,
                       &step.locked, &step.countdown_label})
        grow(*text);
    for (auto& c : step.cautions) {
        grow(c.title);
        grow(c.text);
    }
    for (auto& note : step.notes)
        grow(note);
    for (auto& entry : step.history)
        grow(entry.what);
    for (auto& part : step.budget)
        grow(part.input);
    grow(step.fields);
    grow(step.answers);
    grow(step.results);
    grow(step.rows);
    grow(step.verdict);
    grow(step.actions);
}

void grow(WordsView& w)
{
    for (auto* text :
         {&w.why,      &w.working,     &w.history, &w.picture,    &w.if_wrong, &w.source,  &w.locked,
          &w.recorded, &w.enter_value, &w.search,  &w.hold,       &w.station,  &w.breaker, &w.used,
          &w.revision, &w.enter,       &w.cancel,  &w.clear,      &w.space,    &w.shift,   &w.readings,
          &w.budget,   &w.signature,   &w.signer,  &w.deviations, &w.none})
        grow(*text);
}

} // namespace

SheetView lengthened(SheetView view)
{
    for (auto& stage : view.line)
        grow(stage.label);
    grow(view.words);
    if (view.step)
        grow(*view.step);
    if (view.list) {
        grow(view.list->heading);
        grow(view.list->text);
        grow(view.list->empty);
        grow(view.list->notice);
        grow(view.list->actions);
        for (auto& row : view.list->rows) {
            grow(row.title);
            grow(row.detail);
            grow(row.side);
        }
        for (auto& filter : view.list->filters) {
            grow(filter.label);
            grow(filter.value);
        }
    }
    if (view.table) {
        grow(view.table->heading);
        grow(view.table->text);
        grow(view.table->notice);
        grow(view.table->actions);
        for (auto& filter : view.table->filters) {
            grow(filter.label);
            grow(filter.value);
        }
        for (auto& column : view.table->columns)
            grow(column.heading);
        for (auto& row : view.table->rows)
            for (auto& cell : row.cells)
                grow(cell);
    }
    if (view.form) {
        grow(view.form->heading);
        grow(view.form->text);
        grow(view.form->answers_label);
        grow(view.form->fields);
        grow(view.form->answers);
        grow(view.form->verdict);
        grow(view.form->actions);
    }
    if (view.progress) {
        grow(view.progress->heading);
        grow(view.progress->text);
    }
    if (view.sign) {
        grow(view.sign->heading);
        grow(view.sign->meaning);
        grow(view.sign->problem);
        grow(view.sign->deviations);
        grow(view.sign->facts);
        grow(view.sign->signers);
        grow(view.sign->actions);
    }
    if (view.entry) {
        grow(view.entry->label);
        grow(view.entry->echo);
        grow(view.entry->problem);
        grow(view.entry->question);
        grow(view.entry->context);
    }
    if (view.question) {
        grow(view.question->title);
        grow(view.question->text);
        grow(view.question->actions);
    }
    return view;
}

} // namespace isochore::demo
