#include "../drawing/label_checks.h"
#include "calc/registry.h"
#include "session/read_back.h"
#include "session/step_picture.h"
#include "session/workspace.h"
#include "support/temporary_folder.h"
#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <fstream>
#include <map>
#include <set>

// The shipped checklists against the real calculations: the demo outage is walked from its file of answers,
// then again with every branch it does not take. A name an input does not have, a prediction that cannot be
// made or a step nobody can reach shows here.

using namespace isochore;
using session::Outage;

namespace {

Json read_file(std::string const& path)
{
    std::ifstream in(std::string(ISOCHORE_SOURCE_DIR) + "/" + path);
    return Json::parse(in);
}

Json const& demo()
{
    static Json const answers = read_file("tests/rehearsals/demo_answers.json");
    return answers;
}

Json const& demo_step(std::string const& id)
{
    static Json const none;
    for (auto const& item : demo()["steps"])
        if (item["step"] == id)
            return item;
    return none;
}

/// A new outage of the demo in a folder of its own.
struct Walk {
    test::TemporaryFolder folder;
    session::SetClock clock{1795000000000}; // an afternoon in November 2026
    std::unique_ptr<disk::Disk> disk = disk::system_disk();
    std::unique_ptr<session::Workspace> workspace;
    std::unique_ptr<Outage> outage;
    bool demo_unit = true; ///< no answer differs from the demo's

    explicit Walk(std::string const& profile = demo()["profile"].get<std::string>())
    {
        std::filesystem::path const source(ISOCHORE_SOURCE_DIR);
        auto opened = session::Workspace::open({folder.path(), source / "checklists", source / "profiles"},
                                               clock, *disk);
        REQUIRE(opened);
        workspace = std::move(*opened);
        session::NewOutage setup;
        for (auto const& [name, value] : demo()["facts"].items())
            setup.facts[name] = value.get<std::string>();
        setup.crew = demo()["crew"].get<std::vector<std::string>>();
        setup.who = setup.crew.front();
        auto begun = workspace->begin(profile, setup);
        CAPTURE(begun ? std::string() : begun.error().detail);
        REQUIRE(begun);
        outage = std::move(*begun);
    }

    [[nodiscard]] model::StepStatus status(std::string const& id) const
    {
        return model::status_of(outage->checklists(), outage->state(), *outage->checklists().step(id));
    }

    session::Evaluation take(Result<session::Evaluation> done, std::string const& id)
    {
        CAPTURE(id, done ? std::string() : done.error().where + ": " + done.error().detail);
        REQUIRE(done);
        clock.advance(45.0);
        return *done;
    }

    session::Evaluation log(std::string const& id, Json const& readings)
    {
        for (auto const& reading : readings)
            take(outage->add_reading(id, reading["values"].get<std::vector<std::string>>(), false,
                                     reading["minutes"].get<double>() * 60.0),
                 id);
        return take(outage->record_call(id), id);
    }

    /// Does one step as the item of the file of answers says.
    session::Evaluation perform(Json const& item)
    {
        auto const id = item["step"].get<std::string>();
        if (item.contains("typed"))
            return take(outage->record_value(id, item["typed"].get<std::string>()), id);
        if (item.contains("shown")) {
            auto shown = item["shown"].get<session::ShownValues>();
            if (!demo_unit || outage->profile().id != demo()["profile"]) // another unit shows its own values
                for (auto const& setting : session::settings_of(*outage).settings)
                    if (auto const it = shown.find(setting.path); it != shown.end())
                        it->second = setting.value;
            REQUIRE(outage->add_shown(id, shown));
            return take(outage->record_comparison(id, item["reader"].get<std::string>(),
                                                  item["doer"].get<std::string>()),
                        id);
        }
        if (item.contains("answer"))
            return take(outage->record_answer(id, item["answer"].get<std::string>(), item.value("reader", ""),
                                              item.value("doer", "")),
                        id);
        if (item.contains("readings"))
            return log(id, item["readings"]);
        if (item.contains("compute"))
            return take(outage->record_call(id), id);
        CAPTURE(id);
        if (item.contains("attach")) {
            REQUIRE(outage->record_attachment(id, item["attach"].get<std::string>(), std::string(64, 'a')));
        } else {
            Json const& defer = item.at("defer");
            REQUIRE(outage->defer(id, defer["reason"].get<std::string>(), defer["owner"].get<std::string>(),
                                  defer["before"].get<std::string>()));
        }
        return {};
    }
};

/// What a step works out is drawn as it names it, and nothing in the picture lies over anything else.
void check_picture(Outage const& outage, model::Step const& step, session::Evaluation const& evaluation)
{
    bool const no_taps = outage.state().record("currents.taps").result.is_null();
    if (step.picture.empty() || (step.picture == "taps" && no_taps))
        return; // a coil of one ratio has no taps to draw
    auto const measure = tests::fixed_width(0.55);
    for (drawing::Space const space : {drawing::Space{92.0, 68.0}, drawing::Space{128.0, 46.0}}) {
        auto const picture = session::step_picture(outage.context(), step, evaluation.result,
                                                   evaluation.inputs, space, measure);
        CAPTURE(step.picture, space.width_mm);
        REQUIRE(picture);
        CHECK(picture->items.size() > 3);
        CHECK(tests::label_faults(*picture, measure) == "");
        CHECK(tests::stroke_faults(*picture) == "");
    }
}

/// A reading with a prediction stands beside it in a picture.
void check_reading(Outage const& outage, model::Step const& step)
{
    CHECK_FALSE(step.picture.empty());
    auto const measure = tests::fixed_width(0.55);
    for (drawing::Space const space : {drawing::Space{92.0, 68.0}, drawing::Space{128.0, 46.0}}) {
        auto const picture = session::step_picture(outage.context(), step, {}, {}, space, measure, {},
                                                   session::reading_of(step, outage.state().record(step.id)));
        CAPTURE(step.picture, space.width_mm);
        REQUIRE(picture);
        CHECK(picture->items.size() > 3);
        CHECK(tests::label_faults(*picture, measure) == "");
        CHECK(tests::stroke_faults(*picture) == "");
    }
}

/// Every step in order, with other answers at some of them; steps the branch leaves out are skipped.
std::set<std::string> walk_branch(std::map<std::string, Json> const& instead)
{
    Walk walk;
    walk.demo_unit = false;
    std::set<std::string> done;
    for (auto const& stage : walk.outage->checklists().stages)
        for (auto const& step : stage.steps) {
            CAPTURE(step.id);
            if (walk.status(step.id) == model::StepStatus::not_applicable)
                continue;
            auto const it = instead.find(step.id);
            Json item = it != instead.end() ? it->second : demo_step(step.id);
            if (item.is_null() && step.kind == model::StepKind::compute)
                item = {{"compute", true}};
            REQUIRE(item.is_object());
            item["step"] = step.id;
            if (step.expected) {
                CHECK(session::predict(walk.outage->context(), step));
            }
            auto const evaluation = walk.perform(item);
            if (step.expected)
                check_reading(*walk.outage, step);
            if (step.kind == model::StepKind::compute) {
                for (auto const& name : step.show) {
                    CAPTURE(name);
                    // Only a bolt is tightened to a torque, and only a density on record shows a leak since.
                    auto const& state = walk.outage->state();
                    bool const no_bolt = name == "torque" && state.record("prepare.fixing").answer != "bolt";
                    bool const no_record = name == "leakage_since_last_fill" &&
                                           state.record("prepare.last_fill").answer != "record";
                    CHECK((session::figure_text(evaluation.result, name) || no_bolt || no_record));
                }
                CHECK_FALSE(step.picture.empty()); // every calculation stands beside its picture
                check_picture(*walk.outage, step, evaluation);
            }
            done.insert(step.id);
        }
    return done;
}

} // namespace

TEST_CASE("the demo outage answers every step in the order of the checklists")
{
    Walk walk;
    std::vector<std::string> order;
    for (auto const& stage : walk.outage->checklists().stages)
        for (auto const& step : stage.steps)
            order.push_back(step.id);
    std::size_t at = 0;
    for (auto const& item : demo()["steps"]) {
        auto const id = item["step"].get<std::string>();
        CAPTURE(id);
        while (at < order.size() && order[at] != id)
            ++at;
        CHECK(at < order.size());
    }
}

TEST_CASE("every verdict of the demo outage is a pass and one step is put off")
{
    Walk walk;
    std::size_t number = 0;
    for (auto const& item : demo()["steps"]) {
        auto const id = item["step"].get<std::string>();
        auto const* next = model::next_step(walk.outage->checklists(), walk.outage->state(), id);
        CAPTURE(id);
        REQUIRE(next);
        CHECK(next->id == id); // the crew is led through in this order
        auto const evaluation = walk.perform(item);
        CAPTURE(evaluation.reason, evaluation.remedy, evaluation.question);
        CHECK(evaluation.question.empty());
        CHECK((evaluation.verdict == "pass" || evaluation.verdict == "none" || evaluation.verdict.empty()));
        if (evaluation.prediction) {
            CHECK(evaluation.reason.find("As predicted") != std::string::npos);
        }
        ++number;
    }
    CHECK(number > 60);
    auto const left = model::deviations(walk.outage->checklists(), walk.outage->state());
    REQUIRE(left.size() == 1);
    CHECK(left[0].step->id == "handback.moisture");
    CHECK(left[0].status == model::StepStatus::deferred);
    CHECK_FALSE(left[0].blocks_signing);
}

TEST_CASE("every step of the checklists can be done in some branch, and all calculations accept their inputs")
{
    auto const typed = [](char const* text) { return Json{{"typed", text}}; };
    auto const answer = [](char const* id) { return Json{{"answer", id}}; };
    std::map<std::string, Json> const later_moisture = {{"handback.moisture", typed("-24 degC")}};
    std::set<std::string> reached = walk_branch(later_moisture);
    auto const add = [&](std::map<std::string, Json> instead) {
        auto const more = walk_branch(instead);
        reached.insert(more.begin(), more.end());
    };
    add({{"prepare.coils", answer("one_supervised")},
         {"prepare.position", answer("lamp")},
         {"prepare.lamp_resistance", typed("20 kohm")},
         {"prepare.trip_wiring", answer("coil_supervised")},
         {"mount.window", answer("yes")},
         {"mount.window_width", typed("200 mm")},
         {"mount.window_offset", typed("10 mm")},
         {"mount.window_gap", typed("60 mm")},
         {"currents.path", answer("auxiliary")},
         {"currents.aux_primary", typed("5 A")},
         {"currents.aux_secondary", typed("1 A")},
         {"prepare.supervision_resistance", typed("30 kohm")},
         {"prepare.supervision_threshold", typed("2.5 mA")},
         {"prepare.way", answer("tee")},
         {"prepare.pipe_length", typed("60 mm")},
         {"currents.kind", answer("single")},
         {"currents.single_ratio", typed("2000:5")},
         {"prove.load_when", answer("later")},
         {"prove.load_later", answer("agrees")}});
    add({{"joint.method", answer("soap_film")},
         {"purge.watched", typed("2 min")},
         {"purge.prove", answer("bag")},
         {"purge.bag_background", typed("0.2 ppmv")},
         {"purge.bag_volume", typed("20 l")},
         {"purge.bag_time", typed("2 h")},
         {"purge.bag_final", typed("9 ppmv")},
         {"handback.basis", answer("measured")}});
    add({{"handback.basis", answer("history")},
         {"handback.earlier_density", typed("39.2 kg/m3")},
         {"handback.earlier_age", typed("6 yr")},
         {"prepare.coils", answer("one")},
         {"prepare.trip_output", answer("none")},
         {"prepare.trip_wiring", answer("coil_plain")},
         {"prepare.way", answer("port")},
         {"prepare.pipe_length", typed("34 mm")}});
    add({{"prepare.fixing", answer("self_tapping")},
         {"prepare.screw_diameter", typed("4.8 mm")},
         {"prepare.sheet_thickness", typed("2.5 mm")},
         {"prepare.sheet_tensile", typed("310 MPa")},
         {"prepare.screw_shear", typed("2700 N")}});
    // Ties are refused at the load of this mechanism, so that branch ends before the last step.
    Walk ties;
    (void)ties.perform({{"step", "prepare.fixing"}, {"answer", "tie_wrap"}});
    (void)ties.perform({{"step", "prepare.tie_strength"}, {"typed", "900 N"}});
    reached.insert("prepare.tie_strength");
    Walk const walk;
    for (auto const& stage : walk.outage->checklists().stages)
        for (auto const& step : stage.steps) {
            CAPTURE(step.id);
            CHECK(reached.contains(step.id));
        }
}

namespace {

/// "4.93 bar g" in the first unit of the step, from a value in SI.
std::string typed_in_first_unit(model::Step const& step, double si)
{
    auto const like = parse_amount("1 " + step.units.front(), step.dimension, step.id);
    REQUIRE(like);
    return fmt::format("{:.6f} {}", like->unit->from_si(si), step.units.front());
}

/// Readings that suit the breaker: between the limits, what is predicted, or a little under the filling.
std::optional<std::string> reading_for(Walk const& walk, model::Step const& step)
{
    auto const context = walk.outage->context();
    auto const& profile = walk.outage->profile();
    if (auto const p = session::predict(context, step); p && step.id != "prepare.nameplate_pressure")
        return typed_in_first_unit(step, p->value);
    if (step.id == "prepare.nameplate_pressure")
        return profile.text("gas.nominal");
    if (step.id == "joint.pressure" || step.id == "fill.pressure") {
        auto const target = calc::run("fill.target", Json{{"gas", "SF6"},
                                                          {"nominal_pressure", profile.text("gas.nominal")},
                                                          {"temperature", "13.0 degC"},
                                                          {"baro", "1003 hPa abs"}});
        REQUIRE(target);
        return fmt::format("{:.4f} bar g", target->find("pressure_gauge")->value / 1e5);
    }
    if (step.limit && step.limit->min.starts_with("profile:") && step.limit->max.starts_with("profile:")) {
        auto const low = profile.amount(step.limit->min.substr(8));
        auto const high = profile.amount(step.limit->max.substr(8));
        if (low && high)
            return typed_in_first_unit(step, (low->si + high->si) / 2.0);
    }
    return std::nullopt;
}

/// "Hold 14 min more" means what it says: the same reading every two minutes until the verdict is there.
session::Evaluation hold_on(Walk& walk, std::string const& id, Json const& last)
{
    session::Evaluation evaluation;
    double minutes = last["minutes"].get<double>();
    for (int more = 0; more < 15 && evaluation.verdict != "pass"; ++more) {
        minutes += 2.0;
        evaluation = walk.log(id, Json::array({{{"minutes", minutes}, {"values", last["values"]}}}));
    }
    return evaluation;
}

} // namespace

TEST_CASE("every profile supplied can be walked through the whole outage")
{
    auto const id = GENERATE(values<std::string>({"kd-12", "kd-41", "nq-36", "qv-27", "ut-52", "zh-40"}));
    CAPTURE(id);
    Walk walk(id);
    bool const multi = walk.outage->profile().text("ct.full_ratio").ends_with(":5");
    int passed = 0;
    for (auto const& stage : walk.outage->checklists().stages)
        for (auto const& step : stage.steps) {
            CAPTURE(step.id);
            if (walk.status(step.id) == model::StepStatus::not_applicable)
                continue;
            Json item = demo_step(step.id);
            if (step.id == "currents.single_ratio")
                item = {{"typed", walk.outage->profile().text("ct.full_ratio")}};
            if (step.id == "currents.kind")
                item["answer"] = multi ? "multi" : "single";
            REQUIRE(item.is_object());
            item["step"] = step.id;
            if (step.kind == model::StepKind::measure && !step.free_text)
                if (auto const reading = reading_for(walk, step))
                    item["typed"] = *reading;
            if (step.id == "prove.load") {
                auto const ratio = walk.outage->profile().text("ct.full_ratio");
                item["typed"] = ratio.substr(0, ratio.find(':')) + " A";
            }
            auto evaluation = walk.perform(item);
            if (step.kind == model::StepKind::log && evaluation.verdict == "undecided")
                evaluation = hold_on(walk, step.id, item["readings"].back());
            CAPTURE(evaluation.reason, evaluation.remedy);
            CHECK(evaluation.verdict != "fail");
            CHECK(evaluation.verdict != "undecided");
            ++passed;
        }
    CHECK(passed > 80);
}

TEST_CASE("the checklists hold together with the profiles and calculations the program has")
{
    auto const disk = disk::system_disk();
    std::filesystem::path const source(ISOCHORE_SOURCE_DIR);
    auto const loaded = files::read_checklists(*disk, source / "checklists", session::calculation_names());
    CAPTURE(session::all_faults(loaded.report));
    CHECK(loaded.report.ok());
}
