#include "app/controller.h"
#include "app/page_profile.h"
#include "app/page_stick.h"
#include "app/pages.h"
#include "session/session_support.h"
#include "support/gated_disk.h"
#include <catch2/catch.hpp>
#include <chrono>
#include <thread>

using namespace isochore;
using namespace isochore::app;
using screens::Intent;

namespace {

/// A window over a library whose files are read only as far as the gate lets them through.
struct Window {
    Window()
    {
        disk::Path const source(ISOCHORE_SOURCE_DIR);
        bench.workspace.reset();
        auto opened = session::Workspace::open({bench.folder, source / "checklists", source / "profiles"},
                                               bench.clock, gate);
        REQUIRE(opened);
        workspace = std::move(*opened);
        controller = std::make_unique<Controller>(*workspace, source / "assets/text", drawing::MeasureText{},
                                                  Settings{});
    }
    ~Window() { gate.open(); }

    screens::SheetView view() { return controller->view({}); }
    void tap(Intent::Kind kind, std::string id)
    {
        Intent intent;
        intent.kind = kind;
        intent.id = std::move(id);
        controller->act(intent);
    }
    /// Frames until there is no bar any more.
    screens::SheetView settled()
    {
        for (int i = 0; i < 3000; ++i) {
            auto sheet = view();
            if (!sheet.progress)
                return sheet;
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        }
        FAIL("the bar never went");
        return {};
    }

    session::Bench bench;
    test::GatedDisk gate{*bench.disk};
    std::unique_ptr<session::Workspace> workspace;
    std::unique_ptr<Controller> controller;
};

} // namespace

TEST_CASE("a large library is read beside the window, which says how far it is", "[app][library]")
{
    Window window;
    window.controller->open(std::make_unique<LibraryPage>());
    window.gate.shut_after(3);
    auto const sheet = window.view();
    window.gate.wait_until_held();
    REQUIRE(sheet.progress);
    CHECK_FALSE(sheet.list);
    CHECK(sheet.busy); // a rehearsal waits for it
    auto const later = window.view();
    REQUIRE(later.progress);
    CHECK(later.progress->heading == "Reading the library");
    CHECK(later.progress->done > 0.0);
    CHECK(later.progress->done < 1.0);
    CHECK(later.progress->can_cancel);
    REQUIRE(window.controller->wake_in_s());
    CHECK(*window.controller->wake_in_s() <= 0.2);
    window.tap(Intent::Kind::action, "new"); // what lies below the bar cannot be tapped
    CHECK(window.view().progress);
    window.gate.open();
    auto const done = window.settled();
    REQUIRE(done.list);
    CHECK(done.list->heading == "Profiles");
    CHECK(done.list->rows.size() >= 5);
    CHECK(window.workspace->library_is_read());
}

TEST_CASE("leaving a library that is being read leads home, and nothing of it is in use", "[app][library]")
{
    Window window;
    window.controller->open(std::make_unique<LibraryPage>());
    window.gate.shut_after(2);
    REQUIRE(window.view().progress);
    window.gate.wait_until_held();
    window.tap(Intent::Kind::action, "cancel");
    window.gate.open();
    auto const sheet = window.settled();
    REQUIRE(sheet.list);
    CHECK(sheet.list->heading != "Profiles");
    CHECK_FALSE(window.workspace->library_is_read());
    // The next time it is read from the beginning and whole.
    window.controller->open(std::make_unique<LibraryPage>());
    auto const again = window.settled();
    REQUIRE(again.list);
    CHECK(again.list->heading == "Profiles");
    CHECK(again.list->rows.size() >= 5);
}

TEST_CASE("a page that has what it needs is not held back by a library that changed", "[app][library]")
{
    Window window;
    window.controller->open(std::make_unique<StickPage>());
    window.gate.shut_after(0);
    CHECK_FALSE(window.view().progress);
    CHECK(window.gate.reads() == 0);
}

TEST_CASE("the units are looked at in passing, and can be left meanwhile", "[app][units]")
{
    Window window;
    session::UnitStore store(window.workspace->journal());
    media::UnitValues unit;
    unit.profile_id = "kd-41";
    unit.profile_revision = 1;
    for (int i = 0; i < 400; ++i) {
        unit.values["unit.serial"] = "MU-" + std::to_string(i);
        REQUIRE(store.set({}, unit, "I. Brandt", window.bench.clock.now()));
    }
    (void)window.workspace->library();
    SECTION("until all are there")
    {
        window.controller->open(std::make_unique<UnitsPage>(nullptr));
        int frames = 1;
        auto sheet = window.view();
        for (; sheet.progress; sheet = window.view()) {
            CHECK(sheet.progress->heading == "Looking at the units");
            CHECK(sheet.busy);
            CHECK(window.controller->wake_in_s() == 0.0);
            ++frames;
        }
        REQUIRE(sheet.table);
        CHECK(sheet.table->rows.size() == 400);
        WARN("400 units were looked at in " << frames << " frames");
    }
    SECTION("leaving leads to the sticks")
    {
        auto& desk = window.controller->desk();
        UnitsPage page(nullptr);
        screens::SheetView sheet;
        page.view(desk, sheet, {});
        REQUIRE(sheet.progress);
        Intent cancel;
        cancel.kind = Intent::Kind::action;
        cancel.id = "cancel";
        page.act(desk, cancel);
        CHECK(dynamic_cast<StickPage*>(desk.next.get()));
    }
}
