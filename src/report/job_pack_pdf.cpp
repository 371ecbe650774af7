#include "report/job_pack_pdf.h"
#include "report/pdf_file.h"
#include "report/record_pages.h"
#include "report/sheet_frame.h"

namespace isochore::report {

using namespace drawing;

namespace {

void add_title(Flow& flow, JobPack const& pack)
{
    Row row;
    row.columns = columns_of(flow, {1.0});
    row.columns[0].texts = {{pack.title, Face::bold, Ink::text, paper_size::title},
                            {pack.subtitle, Face::regular, Ink::text, 3.2}};
    row.before = 0.0;
    row.after = 2.0;
    flow.bookmark(pack.title);
    flow.add(std::move(row));
}

void add_cautions(Flow& flow, std::vector<PackCaution> const& cautions)
{
    if (cautions.empty())
        return;
    flow.bookmark(flow.words("Cautions"));
    add_heading(flow, flow.words("Cautions"));
    for (auto const& caution : cautions) {
        Row row;
        row.columns = columns_of(flow, {0.27, 0.73});
        row.columns[0].texts = {{caution.title, Face::bold}};
        row.columns[1].texts = {{caution.text}};
        row.above = Rule::faint;
        flow.add(std::move(row));
    }
}

void add_unknown(Flow& flow, std::vector<std::string> const& unknown)
{
    if (unknown.empty())
        return;
    add_heading(flow, flow.words("To be found out before the outage"));
    for (auto const& text : unknown) {
        Row row;
        row.columns = columns_of(flow, {1.0});
        CellText words{text};
        words.box = true;
        row.columns[0].texts = {std::move(words)};
        row.before = row.after = 0.4;
        flow.add(std::move(row));
    }
}

void add_plan(Flow& flow, JobPack const& pack)
{
    if (pack.plan.empty())
        return;
    flow.bookmark(flow.words("Time plan"));
    add_heading(flow, flow.words("Time plan"));
    Picture drawn = plan_picture(pack, flow.width(), flow.measure());
    Fixed fixed;
    fixed.height = drawn.height + 1.2;
    fixed.keep_with_next = !pack.plan_results.empty();
    fixed.draw = [drawn = std::move(drawn)](Picture& sheet, double left, double top) {
        append(sheet, drawn, {left, top});
    };
    flow.add(std::move(fixed));
    for (auto const& [mark, text] : pack.plan_results) {
        Row row;
        row.columns = columns_of(flow, {1.0});
        CellText result{text, Face::bold, mark_ink(mark)};
        result.mark = mark;
        row.columns[0].texts = {std::move(result)};
        row.before = row.after = 0.5;
        flow.add(std::move(row));
    }
    for (auto const& line : pack.plan)
        if (!line.note.empty()) {
            Row row;
            row.columns = columns_of(flow, {0.27, 0.73});
            row.columns[0].texts = {{line.stage, Face::regular, Ink::muted}};
            row.columns[1].texts = {{line.note}};
            row.before = row.after = 0.3;
            flow.add(std::move(row));
        }
}

Row kit_row(Flow const& flow, KitLine const& line)
{
    Row row;
    row.columns = columns_of(flow, {0.1, 0.36, 0.26, 0.19, 0.09});
    CellText quantity{line.quantity, Face::bold};
    quantity.box = true;
    row.columns[0].texts = {std::move(quantity)};
    row.columns[1].texts = {{line.part}};
    row.columns[2].texts = {{line.purpose, Face::regular, Ink::text, paper_size::small}};
    row.columns[3].texts = {{line.note, Face::regular, Ink::muted, paper_size::small}};
    row.columns[4].texts = {{line.cost}};
    row.columns[4].texts[0].align = Align::right;
    row.above = Rule::faint;
    row.before = row.after = 0.7;
    return row;
}

void add_kit(Flow& flow, JobPack const& pack)
{
    if (pack.kit.empty())
        return;
    flow.bookmark(flow.words("Kit list"));
    for (auto const& group : pack.kit) {
        add_heading(flow, group.title);
        Row head;
        head.columns = columns_of(flow, {0.1, 0.36, 0.26, 0.19, 0.09});
        std::string const names[] = {flow.words("Packed"), flow.words("Part"), flow.words("Known from"),
                                     flow.words("Note"), flow.words("Cost")};
        for (std::size_t c = 0; c < head.columns.size(); ++c)
            head.columns[c].texts = {head_text(names[c])};
        head.columns[4].texts[0].align = Align::right;
        head.above = Rule::line;
        flow.begin_table(std::move(head));
        for (std::size_t i = 0; i < group.lines.size(); ++i) {
            Row row = kit_row(flow, group.lines[i]);
            row.keep_with_next = (i == 0 && group.lines.size() > 1) || i + 2 == group.lines.size();
            flow.add(std::move(row));
        }
        flow.end_table();
    }
    if (!pack.kit_total.empty()) {
        Row row;
        row.columns = columns_of(flow, {1.0});
        row.columns[0].texts = {{pack.kit_total, Face::bold}};
        row.above = Rule::line;
        flow.add(std::move(row));
    }
}

} // namespace

std::vector<Sheet> job_pack_sheets(JobPack const& pack, MeasureText const& measure)
{
    SheetFrame frame;
    frame.paper = pack.paper;
    frame.block = pack.block;
    frame.title = pack.title;
    frame.date = pack.created.substr(0, 10);
    frame.translate = pack.translate;
    if (pack.invented)
        frame.status = frame.words("DEMO DATA: invented breaker model");
    frame.footer = pack.footer;
    Flow flow(content_area(frame, measure).width(), measure, pack.translate);
    add_title(flow, pack);
    add_facts(flow, pack.facts);
    add_cautions(flow, pack.cautions);
    add_unknown(flow, pack.unknown);
    add_plan(flow, pack);
    add_kit(flow, pack);
    for (auto const& table : pack.tables)
        add_table(flow, table);
    for (auto const& picture : pack.pictures)
        add_picture(flow, picture);
    return framed_sheets(flow, frame, measure);
}

Result<std::string> job_pack_pdf(JobPack const& pack)
{
    Type type;
    auto const measure = type.measure();
    return sheets_pdf(job_pack_sheets(pack, measure),
                      {pack.title + " " + pack.block.job, pack.author, pack.subtitle, pack.created}, type);
}

} // namespace isochore::report
