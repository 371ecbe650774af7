#include "app/page_stick.h"
#include "media/usb/usb_tree.h"
#include "session/session_support.h"
#include <catch2/catch.hpp>
#include <chrono>
#include <thread>

// Runs under umockdev-wrapper: libusb and this program see a simulated /sys and /dev. A simulated stick
// cannot be mounted, so that it stands in the list as one that is not mounted yet.
using namespace isochore;
using namespace isochore::app;

namespace {

struct Window {
    session::Bench bench;
    Desk desk{*bench.workspace, {}, {}, {}, {}, {}, {}, {}, {}, {}};
    StickPage page;

    screens::ListView list()
    {
        screens::SheetView sheet;
        page.view(desk, sheet, {});
        return *sheet.list;
    }
    /// As the window's loop does: it wakes the page about once a second.
    bool shows(std::size_t sticks)
    {
        for (int i = 0; i < 300; ++i) {
            page.tick(desk);
            std::size_t n = 0;
            for (auto const& row : list().rows)
                n += row.id.starts_with("target.");
            if (n == sticks)
                return true;
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        }
        return false;
    }
};

} // namespace

TEST_CASE("a stick that is plugged in while the sheet is open appears by itself, and goes when it is pulled",
          "[app][usb]")
{
    test::UsbTree tree;
    Window window;
    REQUIRE(window.page.wake_in_s()); // it is woken, although nobody touches it
    REQUIRE(window.shows(0));
    tree.plug(2, "08", true);
    REQUIRE(window.shows(1));
    auto const row = window.list().rows.front();
    CHECK(row.title.find("Invented Stick") != std::string::npos);
    CHECK(row.side == "not mounted");
    CHECK(row.detail.find("open it in the file manager") != std::string::npos);
    CHECK_FALSE(row.enabled);
    tree.unplug(2, true);
    REQUIRE(window.shows(0));
    tree.plug(3, "08", true);
    CHECK(window.shows(1));
}

TEST_CASE("a mouse and a keyboard on USB are no sticks", "[app][usb]")
{
    test::UsbTree tree;
    Window window;
    REQUIRE(window.shows(0));
    tree.plug(2, "03", true);
    for (int i = 0; i < 20; ++i) {
        window.page.tick(window.desk);
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    CHECK(window.shows(0));
    CHECK(window.list().rows.front().id == "folder");
}
