#include "files/checklist_file.h"
#include "files/checklist_samples.h"
#include <catch2/catch.hpp>
#include <set>

// What the shipped checklists promise beyond being readable. The lengths are what the step screen holds at
// 1280x800 with text at reading size; the others are design sections 2 and 6. Common practice, no source.

using namespace isochore;
using namespace checklist_samples;
using model::Step;
using model::StepKind;

namespace {

model::Checklists const& shipped()
{
    static auto const loaded = [] {
        auto const texts = shipped_texts();
        return files::read_checklist_texts(texts, named_calcs(texts));
    }();
    CAPTURE(all_errors(loaded.report));
    REQUIRE(loaded.report.ok());
    return loaded.checklists;
}

std::size_t characters(std::string const& text)
{
    return static_cast<std::size_t>(std::ranges::count_if(text, [](char c) { return (c & 0xc0) != 0x80; }));
}

/// Everything a step waits for, directly or through others.
std::set<std::string> waits_for(model::Checklists const& all, std::string const& id)
{
    std::set<std::string> reached;
    std::vector<std::string> open{id};
    while (!open.empty()) {
        auto const name = open.back();
        open.pop_back();
        if (!reached.insert(name).second)
            continue;
        if (name.starts_with("stage:")) {
            for (auto const& step : all.stage(name.substr(6))->steps)
                open.push_back(step.id);
        } else if (auto const* step = all.step(name)) {
            open.insert(open.end(), step->needs.begin(), step->needs.end());
            if (step->when)
                open.push_back(step->when->step);
            if (step->kind == StepKind::compute)
                open.insert(open.end(), step->call->uses.begin(), step->call->uses.end());
        }
    }
    return reached;
}

bool has_hands_on(Step const& step)
{
    return step.physical;
}

} // namespace

TEST_CASE("the shipped checklists hold together")
{
    auto const& all = shipped();
    std::vector<std::string> ids;
    for (auto const& stage : all.stages)
        ids.push_back(stage.id);
    CHECK(ids == std::vector<std::string>{"prepare", "safe", "mount", "currents", "timing", "joint", "purge",
                                          "fill", "settings", "prove", "handback"});
}

TEST_CASE("every stage is short enough to be done in one breath")
{
    for (auto const& stage : shipped().stages) {
        CAPTURE(stage.id);
        CHECK(stage.steps.size() >= 5);
        // Preparing takes days and none of the window; it may be longer, and is done in any order.
        CHECK(stage.steps.size() <= (stage.before_window ? 48 : 21));
        // Branches exclude each other: what one crew walks inside the window is at most fifteen.
        CHECK(std::ranges::count_if(stage.steps, [](Step const& s) { return !s.when; }) <=
              (stage.before_window ? 34 : 15));
    }
}

TEST_CASE("titles and texts fit the step screen")
{
    for (auto const& stage : shipped().stages)
        for (auto const& step : stage.steps) {
            CAPTURE(step.id);
            CHECK(characters(step.title) <= 38);
            CHECK(characters(step.text) <= 140);
            CHECK_FALSE(step.why.empty());
            for (auto const& answer : step.answers)
                CHECK(characters(answer.label) <= 58);
        }
}

TEST_CASE("an answer says what was seen, never a bare yes or done")
{
    std::set<std::string> const empty_words = {"Yes", "No",      "Done",     "OK",
                                               "Ok",  "Checked", "Complete", "Confirmed"};
    for (auto const& stage : shipped().stages)
        for (auto const& step : stage.steps)
            for (auto const& answer : step.answers) {
                CAPTURE(step.id, answer.label);
                CHECK_FALSE(empty_words.contains(answer.label));
                // A size or a number chosen may be as short as it stands on the part.
                CHECK(characters(answer.label) >= (step.kind == StepKind::choose ? 2u : 5u));
            }
}

TEST_CASE("every confirm step can be answered with what was not in order")
{
    for (auto const& stage : shipped().stages)
        for (auto const& step : stage.steps)
            if (step.kind == StepKind::confirm) {
                CAPTURE(step.id);
                CHECK(std::ranges::any_of(step.answers, [](auto const& a) { return !a.ok; }));
            }
}

TEST_CASE("no hold point of the whole outage can be overridden")
{
    for (auto const& stage : shipped().stages)
        for (auto const& step : stage.steps)
            if (step.hold) {
                CAPTURE(step.id);
                CHECK(step.may_override == model::OverridePolicy::never);
            }
}

TEST_CASE("nothing is drilled, wired or opened before making safe is closed")
{
    auto const& all = shipped();
    int checked = 0;
    for (auto const& stage : all.stages)
        for (auto const& step : stage.steps)
            if (stage.order > 2 && has_hands_on(step)) {
                CAPTURE(step.id);
                CHECK(waits_for(all, step.id).contains("stage:safe"));
                ++checked;
            }
    CHECK(checked > 15);
}

TEST_CASE("no gas step opens before every chip is removed")
{
    auto const& all = shipped();
    int checked = 0;
    for (auto const* stage : {"joint", "purge", "fill"})
        for (auto const& step : all.stage(stage)->steps)
            if (has_hands_on(step)) {
                CAPTURE(step.id);
                CHECK(waits_for(all, step.id).contains("mount.swarf"));
                ++checked;
            }
    CHECK(checked > 8);
}

TEST_CASE("every step at a CT secondary repeats that it must never be opened")
{
    for (auto const* id : {"currents.circuit", "currents.terminals", "currents.coils", "prove.secondary"}) {
        CAPTURE(id);
        auto const* step = shipped().step(id);
        REQUIRE(step);
        CHECK(std::ranges::count(step->cautions, "ct_open") == 1);
    }
}

TEST_CASE("every caution is shown somewhere and defers to maker, codes or licensed practice")
{
    auto const& all = shipped();
    std::set<std::string> shown;
    for (auto const& stage : all.stages)
        for (auto const& step : stage.steps)
            shown.insert(step.cautions.begin(), step.cautions.end());
    for (auto const& [id, caution] : all.cautions) {
        CAPTURE(id);
        CHECK(shown.contains(id));
        CHECK(caution.text.find("come first") != std::string::npos);
    }
}

TEST_CASE("every limit of a step says where it comes from")
{
    int limits = 0;
    for (auto const& stage : shipped().stages)
        for (auto const& step : stage.steps)
            if (step.limit) {
                CAPTURE(step.id);
                CHECK(characters(step.limit->source) > 10);
                ++limits;
            }
    CHECK(limits >= 8);
}

TEST_CASE("the earths that come off are held against the earths that went on")
{
    auto const* step = shipped().step("handback.earths");
    REQUIRE(step);
    REQUIRE(step->limit);
    CHECK(step->limit->min == "step:safe.earths");
    CHECK(step->limit->max == "step:safe.earths");
}

TEST_CASE("the planned time of the outage is near the two hours such a window has")
{
    double low = 0, likely = 0, high = 0;
    for (auto const& stage : shipped().stages)
        if (stage.id != "prepare") // done days before
            for (auto const& step : stage.steps) {
                low += step.minutes_low;
                likely += step.minutes_likely;
                high += step.minutes_high;
            }
    CAPTURE(low, likely, high);
    // Stage times of common practice for two people sum to 120 / 215 / 430 minutes one after the other.
    CHECK(low >= 90);
    CHECK(likely <= 270);
    CHECK(high <= 520);
}
