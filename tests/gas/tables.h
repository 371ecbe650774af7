#pragma once
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

/// A row of tests/published/*.csv by column name. Lines that begin with # name the source.
struct Row {
    std::map<std::string, std::string> cells;
    [[nodiscard]] std::string const& text(std::string const& name) const { return cells.at(name); }
    [[nodiscard]] double number(std::string const& name) const { return std::stod(cells.at(name)); }
    [[nodiscard]] bool empty(std::string const& name) const { return cells.at(name).empty(); }
};

inline std::vector<Row> published(std::string const& file)
{
    std::ifstream in(std::string(ISOCHORE_SOURCE_DIR) + "/tests/published/" + file);
    REQUIRE(in);
    auto const split = [](std::string const& line) {
        std::vector<std::string> cells;
        std::string cell;
        std::istringstream stream(line);
        while (std::getline(stream, cell, ','))
            cells.push_back(cell);
        if (!line.empty() && line.back() == ',')
            cells.emplace_back();
        return cells;
    };
    std::vector<std::string> names;
    std::vector<Row> rows;
    std::string line;
    while (std::getline(in, line)) {
        if (line.empty() || line[0] == '#')
            continue;
        auto const cells = split(line);
        if (names.empty()) {
            names = cells;
            continue;
        }
        REQUIRE(cells.size() == names.size());
        Row row;
        for (std::size_t i = 0; i < names.size(); ++i)
            row.cells[names[i]] = cells[i];
        rows.push_back(std::move(row));
    }
    REQUIRE_FALSE(rows.empty());
    return rows;
}

inline double relative(double a, double b)
{
    return std::fabs(a / b - 1.0);
}
