#include "drawing/line_diagram.h"
#include "drawing/text.h"
#include "report/qr.h"
#include "report/record_pages.h"
#include <algorithm>
#include <optional>
#include <utility>

namespace isochore::report {

using namespace drawing;

namespace {

/// Worst first.
int rank(Mark mark)
{
    switch (mark) {
    case Mark::fail:
        return 0;
    case Mark::undecided:
        return 1;
    case Mark::overridden:
        return 2;
    case Mark::deferred:
        return 3;
    case Mark::open:
    case Mark::locked:
        return 4;
    case Mark::recorded:
    case Mark::none:
    case Mark::not_applicable:
    case Mark::pass:
        break;
    }
    return 5;
}

CellText marked(Mark mark, std::string text)
{
    CellText cell{std::move(text), Face::bold, mark_ink(mark)};
    cell.mark = mark;
    return cell;
}

/// The hash in groups of eight digits, four groups a line.
std::vector<std::string> hash_lines(std::string const& hash)
{
    std::vector<std::string> lines;
    std::string line;
    for (std::size_t at = 0; at < hash.size(); at += 8) {
        if (!line.empty())
            line += ' ';
        line += hash.substr(at, 8);
        if (at % 32 == 24 || at + 8 >= hash.size())
            lines.push_back(std::exchange(line, {}));
    }
    return lines;
}

/// Title and subtitle, under them the hash, and its QR code at the right.
void add_title(Flow& flow, RecordDocument const& document)
{
    constexpr double side = 26.0;
    auto const modules =
        document.hash.empty()
            ? std::nullopt
            : std::optional(qr_modules(document.qr_text.empty() ? document.hash : document.qr_text));
    bool const code = modules && modules->has_value();
    double const room = flow.width() - (code ? side + 2.0 : 0.0);
    constexpr double subtitle_size = 3.2;
    auto const subtitle = wrap_text(document.subtitle, room, Face::regular, subtitle_size, flow.measure());
    Fixed head;
    auto const hash = hash_lines(document.hash);
    double const words = 8.5 + static_cast<double>(subtitle.size()) * subtitle_size * paper_size::pitch +
                         (hash.empty() ? 0.0 : 5.0 + 3.6 * static_cast<double>(hash.size()));
    head.height = std::max(words, code ? side : 0.0) + 1.0;
    head.draw = [=, title = document.title, label = document.hash_label,
                 width = flow.width()](Picture& sheet, double left, double top) {
        double y = top + 5.8;
        sheet.label({left, y}, title, paper_size::title, Ink::text, Face::bold);
        y += 1.5;
        for (auto const& line : subtitle)
            if (!line.empty())
                sheet.label({left, y += subtitle_size * paper_size::pitch}, line, subtitle_size, Ink::text);
        if (!hash.empty())
            sheet.label({left, y += 5.0}, label, paper_size::small, Ink::muted);
        for (auto const& line : hash)
            sheet.label({left, y += 3.6}, line, 2.6, Ink::text, Face::mono);
        if (code)
            draw_qr(sheet, **modules, {left + width - side + 2.0, top - 2.0}, side);
    };
    flow.bookmark(document.title);
    flow.add(std::move(head));
}

void add_line(Flow& flow, RecordDocument const& document)
{
    if (document.line.empty())
        return;
    constexpr double size = 2.1; // small print, so that eleven stages stand on one line
    double const height = line_diagram_height(document.line, flow.width(), flow.measure(), size);
    Picture drawn = line_diagram(document.line, {flow.width(), height}, flow.measure(), size);
    Fixed fixed;
    fixed.height = height;
    fixed.draw = [drawn = std::move(drawn)](Picture& sheet, double left, double top) {
        append(sheet, drawn, {left, top});
    };
    flow.add(std::move(fixed));
    flow.gap(1.0);
}

void add_done(Flow& flow, std::vector<std::string> const& done)
{
    if (done.empty())
        return;
    add_heading(flow, flow.words("What was done"));
    for (auto const& text : done) {
        Row row;
        row.columns = columns_of(flow, {1.0});
        row.columns[0].texts = {{text, Face::regular, Ink::text, 2.9}};
        row.before = 0.1;
        row.after = 0.5;
        flow.add(std::move(row));
    }
}

void add_summary(Flow& flow, std::vector<SummaryLine> lines)
{
    if (lines.empty())
        return;
    std::stable_sort(lines.begin(), lines.end(),
                     [](auto const& a, auto const& b) { return rank(a.mark) < rank(b.mark); });
    add_heading(flow, flow.words("Results, worst first"));
    std::vector<double> const shares{0.135, 0.25, 0.215, 0.15, 0.31};
    Row head;
    head.columns = columns_of(flow, shares);
    std::string const names[] = {flow.words("Verdict"), flow.words("Result"), flow.words("Value"),
                                 flow.words("Limit"), flow.words("Reason")};
    for (std::size_t c = 0; c < shares.size(); ++c)
        head.columns[c].texts = {head_text(names[c])};
    head.above = Rule::line;
    flow.begin_table(std::move(head));
    for (std::size_t i = 0; i < lines.size(); ++i) {
        auto& line = lines[i];
        Row row;
        row.columns = columns_of(flow, shares);
        row.columns[0].texts = {marked(line.mark, flow.words(mark_word(line.mark)))};
        row.columns[1].texts = {{std::move(line.what)}};
        row.columns[2].texts = {{std::move(line.value), Face::bold}};
        row.columns[3].texts = {{std::move(line.limit)}};
        row.columns[4].texts = {{std::move(line.reason), Face::regular, Ink::text, paper_size::small}};
        row.above = Rule::faint;
        row.before = row.after = 0.6;
        row.keep_with_next = (i == 0 && lines.size() > 1) || i + 2 == lines.size();
        flow.add(std::move(row));
    }
    flow.end_table();
}

void add_deviations(Flow& flow, std::vector<Deviation> const& deviations)
{
    add_heading(flow, flow.words("Deviations"));
    std::vector<double> const shares{0.135, 0.29, 0.325, 0.25};
    if (deviations.empty()) {
        Row row;
        row.columns = columns_of(flow, {1.0});
        row.columns[0].texts = {
            {flow.words("None: every step was done as the checklist asks and every limit was met.")}};
        flow.add(std::move(row));
        return;
    }
    Row head;
    head.columns = columns_of(flow, shares);
    std::string const names[] = {flow.words("Kind"), flow.words("Step and what deviates"),
                                 flow.words("Reason given"), flow.words("Decided by; to be closed by")};
    for (std::size_t c = 0; c < shares.size(); ++c)
        head.columns[c].texts = {head_text(names[c])};
    head.above = Rule::line;
    flow.begin_table(std::move(head));
    for (std::size_t i = 0; i < deviations.size(); ++i) {
        auto const& d = deviations[i];
        Row row;
        row.columns = columns_of(flow, shares);
        row.columns[0].texts = {marked(d.mark, flow.words(mark_word(d.mark)))};
        row.columns[1].texts = {{d.step, Face::bold}, {d.what}};
        row.columns[2].texts = {{d.why}};
        row.columns[3].texts = {{d.who}, {d.when, Face::regular, Ink::muted, paper_size::small}};
        if (!d.owner.empty())
            row.columns[3].texts.push_back({flow.words("to be closed by {}", {d.owner}), Face::bold});
        row.above = Rule::faint;
        row.keep_with_next = (i == 0 && deviations.size() > 1) || i + 2 == deviations.size();
        flow.add(std::move(row));
    }
    flow.end_table();
}

void draw_strokes(Picture& sheet, Signature const& signature, Box pad)
{
    for (auto const& stroke : signature.strokes) {
        std::vector<Point> points;
        for (Point const p : stroke)
            points.push_back({pad.left + std::clamp(p.x, 0.0, 1.0) * pad.width(),
                              pad.top + std::clamp(p.y, 0.0, 1.0) * pad.height()});
        if (points.size() > 1)
            sheet.polyline(std::move(points), Ink::text, 0.4);
    }
}

std::string role_and_time(Signature const& signature)
{
    if (signature.role.empty() || signature.when.empty())
        return signature.role + signature.when;
    return signature.role + ", " + signature.when;
}

/// Two signatures beside each other: a line to sign on, and under it name, role, time and meaning.
void add_signatures(Flow& flow, std::vector<Signature> const& signatures)
{
    add_heading(flow, flow.words("Signatures"));
    if (signatures.empty()) {
        Row row;
        row.columns = columns_of(flow, {1.0});
        row.columns[0].texts = {{flow.words("Not signed."), Face::bold}};
        flow.add(std::move(row));
        return;
    }
    for (std::size_t i = 0; i < signatures.size(); i += 2) {
        std::size_t const end = std::min(signatures.size(), i + 2);
        std::vector<Signature> const pair(signatures.begin() + static_cast<std::ptrdiff_t>(i),
                                          signatures.begin() + static_cast<std::ptrdiff_t>(end));
        Row words;
        words.columns = columns_of(flow, {0.5, 0.5});
        double const width = words.columns[0].width, second = words.columns[1].left;
        for (std::size_t s = 0; s < pair.size(); ++s)
            words.columns[s].texts = {{pair[s].name, Face::bold, Ink::text, 3.1},
                                      {role_and_time(pair[s])},
                                      {pair[s].meaning},
                                      {pair[s].detail, Face::mono, Ink::muted, 2.2}};
        Fixed pads;
        pads.height = 11.5;
        pads.keep_with_next = true;
        pads.draw = [pair, width, second](Picture& sheet, double left, double top) {
            for (std::size_t s = 0; s < pair.size(); ++s) {
                double const x = left + (s == 0 ? 0.0 : second);
                draw_strokes(sheet, pair[s],
                             {x + 2.0, top + 1.0, x + std::min(52.0, width - 4.0), top + 10.2});
                sheet.line({x, top + 10.8}, {x + width, top + 10.8}, Ink::line, 0.3);
            }
        };
        flow.add(std::move(pads));
        words.before = 0.2;
        flow.add(std::move(words));
    }
}

} // namespace

/// Facts in two columns of name and value.
void add_facts(Flow& flow, std::vector<Fact> const& facts)
{
    std::size_t const half = (facts.size() + 1) / 2;
    double name = 0.17; // of the width, or what the longest word needs
    for (auto const& fact : facts)
        name = std::max(name, (longest_word(fact.label, Face::regular, paper_size::body, flow.measure()) + 1.5) /
                                  flow.width());
    name = std::min(name, 0.25);
    for (std::size_t i = 0; i < half; ++i) {
        Row row;
        row.columns = columns_of(flow, {name, 0.5 - name, name, 0.5 - name});
        row.above = Rule::faint;
        row.before = row.after = 0.4;
        for (std::size_t side = 0; side < 2; ++side)
            if (std::size_t const n = i + side * half; n < facts.size()) {
                row.columns[2 * side].texts = {{facts[n].label, Face::regular, Ink::muted}};
                row.columns[2 * side + 1].texts = {{facts[n].value}};
            }
        row.keep_with_next = i + 1 < half && half < 30;
        flow.add(std::move(row));
    }
}

void add_front(Flow& flow, RecordDocument const& document)
{
    add_title(flow, document);
    add_line(flow, document);
    add_facts(flow, document.facts);
    add_done(flow, document.done);
    add_summary(flow, document.summary);
    add_deviations(flow, document.deviations);
    add_signatures(flow, document.signatures);
}

} // namespace isochore::report
