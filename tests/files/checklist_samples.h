#pragma once
#include "files/checklist_file.h"
#include "json/value.h"
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

namespace checklist_samples {

using Texts = std::vector<std::pair<std::string, std::string>>;
using isochore::Json;

/// A step of each kind, all good; tests change one thing and see it named.
inline Json good_stage()
{
    return Json::parse(R"({
      "format": "isochore.checklist/1", "id": "fill", "order": 1, "title": "Fill", "brief": "Fill",
      "about": "Demo.", "revision": 1, "date": "2026-11-25", "source": "common practice, no source",
      "steps": [
        {"id": "fill.way", "kind": "choose", "title": "Which way?", "text": "Look.", "source": "x",
         "answers": [{"id": "tee", "label": "Tee"}, {"id": "X1-X5", "label": "Run"}]},
        {"id": "fill.seen", "kind": "confirm", "title": "Look", "text": "Look.", "source": "x",
         "cautions": ["pressure"], "challenge": true, "hold": true, "may_override": "never",
         "answers": [{"id": "shut", "label": "Valve: SHUT"},
                     {"id": "open", "label": "Valve open", "ok": false, "then": "Shut it."}]},
        {"id": "fill.before", "kind": "measure", "title": "Read", "text": "Read.", "source": "x",
         "needs": ["fill.seen"], "minutes": [1, 2, 4],
         "dimension": "pressure", "units": ["bar g", "MPa abs"], "plausible_min": "1 bar g",
         "plausible_max": "9 bar g", "possible_min": "0 bar abs", "possible_max": "20 bar g",
         "limit": {"max": "profile:gas.max_pressure", "source": "profile", "confidence": "unconfirmed"},
         "expected": {"calc": "fill.target", "result": "pressure_gauge",
                      "inputs": {"gas": "profile:gas.species", "temperature": "20 degC"}}},
        {"id": "fill.serial", "kind": "measure", "title": "Type", "text": "Type.", "source": "x",
         "free_text": true},
        {"id": "fill.log", "kind": "log", "title": "Log", "text": "Log.", "source": "x", "interval_s": 60,
         "columns": [{"id": "purity", "label": "Purity", "dimension": "fraction", "units": ["%"]}],
         "call": {"calc": "purge.plateau", "inputs": {"series": "series:fill.log"}}},
        {"id": "fill.topup", "kind": "compute", "title": "Compute", "text": "Compute.", "source": "x",
         "when": {"step": "fill.way", "answers": ["tee"]}, "picture": "pt",
         "call": {"calc": "fill.topup",
                  "inputs": {"pressure": "step:fill.before", "plateau": "step:fill.log.plateau",
                             "station": "job:station", "nested": {"list": ["step:fill.before", "1 K"]}}},
         "show": ["mass_to_add"]},
        {"id": "fill.photo", "kind": "attach", "title": "Photo", "text": "Photo.", "source": "x",
         "needs": ["fill.topup"]}
      ]})");
}

inline std::string good_cautions()
{
    return R"({"format": "isochore.cautions/1",
               "cautions": [{"id": "pressure", "title": "Pressure", "text": "Mind it."}]})";
}

inline std::vector<std::string> known_calcs()
{
    return {"fill.target", "fill.topup", "purge.plateau"};
}

inline isochore::files::LoadedChecklists load(Json const& stage)
{
    return isochore::files::read_checklist_texts(
        {{"01_fill.json", stage.dump()}, {"cautions.json", good_cautions()}}, known_calcs());
}

/// The step of that position, to be changed.
inline Json& step(Json& stage, std::size_t index)
{
    return stage["steps"][index];
}

inline std::string all_errors(isochore::files::FileReport const& report)
{
    std::string text;
    for (auto const& error : report.errors)
        text += error.where + " | " + error.detail + "\n";
    return text;
}

/// The checklists the program ships, name and text.
inline Texts shipped_texts()
{
    Texts texts;
    for (auto const& item :
         std::filesystem::directory_iterator(std::filesystem::path(ISOCHORE_SOURCE_DIR) / "checklists"))
        if (item.path().extension() == ".json") {
            std::ifstream in(item.path(), std::ios::binary);
            std::ostringstream text;
            text << in.rdbuf();
            texts.emplace_back(item.path().filename().string(), text.str());
        }
    std::ranges::sort(texts);
    return texts;
}

/// Every calculation the shipped checklists name; whether these exist is asked where the calculations are
/// linked (tests/session).
inline std::vector<std::string> named_calcs(Texts const& texts)
{
    std::vector<std::string> names;
    for (auto const& [file, text] : texts) {
        Json const document = Json::parse(text);
        if (document.contains("steps"))
            for (auto const& item : document["steps"])
                for (auto const* member : {"call", "expected"})
                    if (item.contains(member))
                        names.push_back(item[member]["calc"].get<std::string>());
    }
    return names;
}

} // namespace checklist_samples
