#include "planning/schedule.h"
#include <algorithm>
#include <catch2/catch.hpp>
#include <numeric>
#include <random>

using namespace isochore;
using namespace isochore::planning;

namespace {

Task task(std::string id, double minutes, std::vector<std::size_t> needs = {}, int people = 1)
{
    Task t;
    t.id = t.title = std::move(id);
    t.low_s = t.likely_s = t.high_s = minutes * 60.0;
    t.people = people;
    t.needs = std::move(needs);
    return t;
}

std::vector<double> likely(std::vector<Task> const& tasks)
{
    std::vector<double> d;
    for (Task const& t : tasks)
        d.push_back(t.likely_s);
    return d;
}

} // namespace

TEST_CASE("a chain of needs is done one after the other and is the critical path", "[planning]")
{
    std::vector<Task> const tasks{task("a", 10), task("b", 20, {0}), task("c", 5, {1}),
                                  task("short", 1, {0})};
    Schedule const s = place(tasks, likely(tasks), 2);
    CHECK(s.finish_s == Approx(35 * 60.0));
    CHECK(s.critical == std::vector<std::size_t>{0, 1, 2});
}

TEST_CASE("work that does not depend is shared by two people and queued by one", "[planning]")
{
    std::vector<Task> const tasks{task("gas", 60), task("wires", 40), task("prove", 10, {0, 1}, 2)};
    CHECK(place(tasks, likely(tasks), 2).finish_s == Approx(70 * 60.0));
    // Alone: both one after the other, and the proof for two takes twice as long.
    CHECK(place(tasks, likely(tasks), 1).finish_s == Approx(120 * 60.0));
}

TEST_CASE("waiting takes no people and does not stretch", "[planning]")
{
    std::vector<Task> tasks{task("settle", 30), task("wires", 30)};
    tasks[0].waiting = true;
    CHECK(place(tasks, likely(tasks), 1).finish_s == Approx(30 * 60.0));
}

TEST_CASE("no schedule breaks a need or uses more people than the crew has", "[planning][property]")
{
    std::mt19937 random(17);
    for (int round = 0; round < 300; ++round) {
        std::vector<Task> tasks;
        int const n = 1 + static_cast<int>(random() % 25);
        int const crew = 1 + static_cast<int>(random() % 4);
        for (int i = 0; i < n; ++i) {
            Task t = task(std::to_string(i), 1.0 + static_cast<double>(random() % 50), {},
                          1 + static_cast<int>(random() % 4));
            t.waiting = random() % 5 == 0;
            for (int k = 0; k < i; ++k)
                if (random() % 4 == 0)
                    t.needs.push_back(static_cast<std::size_t>(k));
            tasks.push_back(t);
        }
        std::shuffle(tasks.begin(), tasks.end(), random); // needs now point anywhere, perhaps in a circle
        if (!check_tasks(tasks, crew, "t"))
            continue;
        Schedule const s = place(tasks, likely(tasks), crew);
        double work = 0.0;
        for (std::size_t i = 0; i < tasks.size(); ++i) {
            for (std::size_t need : tasks[i].needs)
                REQUIRE(s.slots[i].start_s >= s.slots[need].finish_s - 1e-9);
            work += s.slots[i].finish_s - s.slots[i].start_s;
        }
        for (Slot const& at : s.slots) {
            int busy = 0;
            for (Slot const& other : s.slots)
                if (other.start_s <= at.start_s && at.start_s < other.finish_s)
                    busy += other.people;
            REQUIRE(busy <= crew);
        }
        // Never longer than everything in a row, and the critical chain has no gaps.
        REQUIRE(s.finish_s <= work + 1e-6);
        double chain = 0.0;
        for (std::size_t i : s.critical)
            chain += s.slots[i].finish_s - s.slots[i].start_s;
        REQUIRE(chain == Approx(s.finish_s).epsilon(1e-12));
    }
}

TEST_CASE("more people never leave a task waiting that fewer could start", "[planning][property]")
{
    // The order of work is a rule of thumb, so only independent tasks are certain to gain.
    std::vector<Task> tasks;
    for (int i = 0; i < 8; ++i)
        tasks.push_back(task("t", 10.0 + i));
    double last = 1e9;
    for (int crew = 1; crew <= 8; ++crew) {
        double const finish = place(tasks, likely(tasks), crew).finish_s;
        CHECK(finish <= last);
        last = finish;
    }
    CHECK(last == Approx(17 * 60.0));
}

TEST_CASE("circles, times out of order and too small a crew are refused by name", "[planning]")
{
    std::vector<Task> tasks{task("alpha", 1, {1}), task("beta", 1, {0})};
    auto const circle = check_tasks(tasks, 2, "inputs");
    REQUIRE_FALSE(circle);
    CHECK(circle.error().detail.find("circle") != std::string::npos);
    tasks = {task("alpha", 1, {0})};
    CHECK_FALSE(check_tasks(tasks, 2, "inputs"));
    tasks = {task("alpha", 1, {7})};
    CHECK_FALSE(check_tasks(tasks, 2, "inputs"));
    tasks = {task("alpha", 1)};
    tasks[0].low_s = 100.0;
    CHECK(check_tasks(tasks, 2, "inputs").error().where == "inputs.tasks[0]");
    tasks = {task("alpha", 1, {}, 3)};
    tasks[0].least_people = 2;
    CHECK(check_tasks(tasks, 2, "inputs"));
    CHECK(check_tasks(tasks, 1, "inputs").error().detail.find("at least 2 people") != std::string::npos);
    CHECK_FALSE(check_tasks(tasks, 0, "inputs"));
}

TEST_CASE("what is left once a task is begun is the task and all that hangs on it", "[planning]")
{
    // a -> b -> d, c -> d: from b on there are b and d, and c counts as finished.
    std::vector<Task> const tasks{task("a", 10), task("b", 20, {0}), task("c", 99), task("d", 30, {1, 2})};
    auto const left = from_task(tasks, 1);
    REQUIRE(left.size() == 2);
    CHECK(left[0].id == "b");
    CHECK(left[1].id == "d");
    CHECK(left[0].needs.empty());
    CHECK(left[1].needs == std::vector<std::size_t>{0});
    CHECK(place(left, likely(left), 2).finish_s == Approx(50 * 60.0));
}
