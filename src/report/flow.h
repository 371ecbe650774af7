#pragma once
#include "drawing/marks.h"
#include "drawing/picture.h"
#include "drawing/space.h"
#include "language/places.h"
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace isochore::report {

/// Sizes of type on paper, em in mm. B612 has a large x-height: 2.75 mm (7.8 pt) reads like 9 pt of most.
namespace paper_size {
inline constexpr double body = 2.75;
inline constexpr double small = 2.4;
inline constexpr double head = 4.2;
inline constexpr double title = 6.4;
inline constexpr double pitch = 1.28; ///< line height as a share of the em
} // namespace paper_size

/// A paragraph of a cell.
struct CellText {
    std::string text;
    drawing::Face face = drawing::Face::regular;
    drawing::Ink ink = drawing::Ink::text;
    double size = paper_size::body;
    bool struck = false;                      ///< an old value, struck through
    drawing::Mark mark = drawing::Mark::none; ///< stands before the first line
    drawing::Align align = drawing::Align::left;
    bool box = false;                         ///< an empty box to tick by hand, before the first line
    std::optional<double> bar = std::nullopt; ///< a share, 0 to 1, drawn as a bar after the text
};

/// A column of a row, in mm from the left edge of the content.
struct Column {
    double left = 0.0, width = 10.0;
    std::vector<CellText> texts;
};

enum class Rule { none, faint, line };

/// A row of cells whose texts wrap; it may break between lines when it is taller than a sheet.
struct Row {
    std::vector<Column> columns;
    Rule above = Rule::none;
    double before = 0.9, after = 0.9; ///< air inside the row
    bool keep_with_next = false;
};

/// Something drawn as it is: a picture, a signature, the QR code.
struct Fixed {
    double height = 10.0;
    std::function<void(drawing::Picture& sheet, double left, double top)> draw;
    bool keep_with_next = false;
};

/// The content of a document as a run of blocks, and its breaking over sheets.
class Flow {
public:
    Flow(double width, drawing::MeasureText const& measure, language::Translate translate = {})
        : m_width(width), m_measure(measure), m_translate(std::move(translate))
    {
    }

    [[nodiscard]] double width() const { return m_width; }
    [[nodiscard]] drawing::MeasureText const& measure() const { return m_measure; }

    /// The sheets' own words in the language of the document.
    [[nodiscard]] std::string words(std::string_view english,
                                    std::initializer_list<std::string> values = {}) const
    {
        return language::translated(m_translate, english, values);
    }

    void add(Row row);
    void add(Fixed fixed);
    void gap(double height);
    /// Names the next block in the bookmarks.
    void bookmark(std::string name) { m_bookmark = std::move(name); }
    /// What follows belongs to a table: the head is printed above it and again on every sheet it runs over
    /// to.
    void begin_table(Row head);
    void end_table();

    struct Sheet {
        drawing::Picture picture; ///< content only, in the coordinates of the content area
        std::vector<std::string> bookmarks;
    };
    /// Breaks the content into sheets of this height.
    [[nodiscard]] std::vector<Sheet> sheets(double height) const;

private:
    struct Line {
        std::size_t of = 0; ///< its paragraph in SetColumn::texts
        std::string text;
        bool first = false; ///< carries the mark and the bar
    };
    struct SetColumn {
        double left = 0.0, width = 0.0;
        std::vector<CellText> texts;
        std::vector<Line> lines;
        [[nodiscard]] CellText const& style(Line const& line) const { return texts[line.of]; }
        [[nodiscard]] double height() const;
    };
    struct Block {
        std::vector<SetColumn> columns;
        Rule above = Rule::none;
        double before = 0.0, after = 0.0, height = 0.0;
        bool keep_with_next = false, is_gap = false, is_head = false;
        std::function<void(drawing::Picture&, double, double)> draw;
        int table = -1;
        std::string bookmark;
    };
    class Breaker;

    [[nodiscard]] Block set(Row row) const;
    static void measure_height(Block& block);
    void push(Block block);
    void paint(Block const& block, drawing::Picture& sheet, double top) const;
    void paint_line(Line const& line, SetColumn const& column, drawing::Picture& sheet,
                    double baseline) const;

    double m_width;
    drawing::MeasureText const& m_measure;
    language::Translate m_translate;
    std::vector<Block> m_blocks;
    std::vector<Block> m_heads; ///< by table
    int m_table = -1;
    std::string m_bookmark;
};

} // namespace isochore::report
