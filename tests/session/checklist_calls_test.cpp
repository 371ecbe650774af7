#include "calc/registry.h"
#include "session/workspace.h"
#include "support/temporary_folder.h"
#include <catch2/catch.hpp>
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

    Walk()
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
        auto begun = workspace->begin(demo()["profile"].get<std::string>(), setup);
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
            take(outage->add_reading(id, reading["values"].get<std::vector<std::string>>(), false, false,
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

/// Every step in order, with other answers at some of them; steps the branch leaves out are skipped.
std::set<std::string> walk_branch(std::map<std::string, Json> const& instead)
{
    Walk walk;
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
            if (step.kind == model::StepKind::compute) {
                for (auto const& name : step.show) {
                    CAPTURE(name);
                    CHECK(session::figure_text(evaluation.result, name));
                }
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
    add({{"prepare.trip_wiring", answer("coil_supervised")},
         {"prepare.supervision_resistance", typed("30 kohm")},
         {"prepare.supervision_threshold", typed("2.5 mA")},
         {"joint.way", answer("tee")},
         {"joint.length", typed("60 mm")},
         {"prove.load_when", answer("later")},
         {"prove.load_later", answer("agrees")}});
    add({{"prepare.trip_wiring", answer("coil_plain")},
         {"joint.way", answer("port")},
         {"joint.length", typed("34 mm")}});
    Walk const walk;
    for (auto const& stage : walk.outage->checklists().stages)
        for (auto const& step : stage.steps) {
            CAPTURE(step.id);
            CHECK(reached.contains(step.id));
        }
}

TEST_CASE("the checklists hold together with the profiles and calculations the program has")
{
    auto const disk = disk::system_disk();
    std::filesystem::path const source(ISOCHORE_SOURCE_DIR);
    auto const loaded = files::read_checklists(*disk, source / "checklists", session::calculation_names());
    CAPTURE(session::all_faults(loaded.report));
    CHECK(loaded.report.ok());
}
