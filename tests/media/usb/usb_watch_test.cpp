#include "media/usb/usb_tree.h"
#include "media/usb_watch.h"
#include <catch2/catch.hpp>
#include <chrono>
#include <thread>

// Runs under umockdev-wrapper: libusb and this program see a simulated /sys and /dev.

using namespace isochore;
using namespace isochore::media;
using Tree = test::UsbTree;

namespace {

bool changes(UsbWatch& watch)
{
    for (int i = 0; i < 300; ++i) {
        if (watch.changed())
            return true;
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    return false;
}

/// Waits until no event is under way any more: an arrival may be told twice.
void settle(UsbWatch& watch)
{
    for (int quiet = 0; quiet < 5; quiet = watch.changed() ? 0 : quiet + 1)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
}

} // namespace

TEST_CASE("sticks already plugged in are seen, other devices are not", "[media][usb]")
{
    Tree tree;
    tree.plug(2, "08", false);
    tree.plug(3, "03", false);
    auto const watch = UsbWatch::start();
    REQUIRE(watch);
    auto const devices = (*watch)->storage_devices();
    REQUIRE(devices);
    REQUIRE(devices->size() == 1);
    CHECK(devices->front().place == "1-2");
    CHECK(devices->front().vendor_id == 0x1209);
    CHECK(devices->front().product_id == 0x00a1);
    auto const search = find_sticks(tree.view(), *devices);
    CHECK(search.notes.empty());
    REQUIRE(search.targets.size() == 1);
    CHECK(search.targets[0].use == StickTarget::Use::ready);
    CHECK(search.targets[0].block == "sdq1");
    REQUIRE(search.targets[0].usb);
    CHECK(search.targets[0].usb->place == "1-2"); // libusb and sysfs mean the same device
    CHECK(search.targets[0].usb->serial == "00042");
}

TEST_CASE("plugging in and pulling out is told at once, also in the middle of use", "[media][usb]")
{
    Tree tree;
    auto const watch = UsbWatch::start();
    REQUIRE(watch);
    settle(**watch);
    CHECK((*watch)->storage_devices()->empty());
    CHECK(find_sticks(tree.view(), (*watch)->storage_devices().value()).targets.empty());

    tree.plug(2, "08", true);
    REQUIRE(changes(**watch));
    settle(**watch);
    REQUIRE((*watch)->storage_devices()->size() == 1);
    CHECK(find_sticks(tree.view(), (*watch)->storage_devices().value()).targets.size() == 1);

    tree.unplug(2, true);
    REQUIRE(changes(**watch));
    settle(**watch);
    CHECK((*watch)->storage_devices()->empty());
    CHECK(find_sticks(tree.view(), (*watch)->storage_devices().value()).targets.empty());

    tree.plug(4, "08", true);
    REQUIRE(changes(**watch));
    settle(**watch);
    REQUIRE((*watch)->storage_devices()->size() == 1);
    CHECK((*watch)->storage_devices()->front().place == "1-4");
}
