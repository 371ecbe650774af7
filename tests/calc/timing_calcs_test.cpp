#include "ct_run.h"
#include <cmath>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <unistd.h>

using namespace isochore;
using namespace isochore::calc;

TEST_CASE("rated interrupting times in cycles become seconds", "[calc][timing]")
{
    // IEEE C37.04 preferred 2, 3, 5 and 8 cycles; milliseconds by t = cycles / f.
    struct Row {
        char const* cycles;
        double ms60, ms50;
    };
    for (Row const& r : {Row{"2 cycles", 33.333333, 40.0}, Row{"3 cycles", 50.0, 60.0},
                         Row{"5 cycles", 83.333333, 100.0}, Row{"8 cycles", 133.333333, 160.0}}) {
        auto const text = [&](char const* hz) {
            return std::string(R"({"interrupting_cycles":")") + r.cycles + R"(","frequency":")" + hz +
                   R"("})";
        };
        CHECK(value_of(answered("timing.limits", text("60 Hz")), "interrupting_time") * 1e3 ==
              Approx(r.ms60).epsilon(1e-6));
        CHECK(value_of(answered("timing.limits", text("50 Hz")), "interrupting_time") * 1e3 ==
              Approx(r.ms50).epsilon(1e-9));
    }
}

TEST_CASE("a tolerance is a share or a time and spreads come from the inputs", "[calc][timing]")
{
    auto const a =
        answered("timing.limits", R"({"interrupting_cycles":3,"frequency":"60 Hz","tolerance":"10 %",
        "opening_spread":"0.1666666666667 cycles","closing_spread":"0.25 cycles"})");
    CHECK(value_of(a, "lower_limit") == Approx(0.045));
    CHECK(value_of(a, "upper_limit") == Approx(0.055));
    CHECK(value_of(a, "opening_spread_limit") * 1e3 == Approx(2.778).epsilon(1e-4));
    CHECK(value_of(a, "closing_spread_limit") * 1e3 == Approx(4.167).epsilon(1e-4));
    CHECK(value_of(answered("timing.limits",
                            R"({"interrupting_cycles":"3 cycles","frequency":"50 Hz","tolerance":"5 ms"})"),
                   "upper_limit") == Approx(0.065));
}

TEST_CASE("timing.limits refuses what is no power frequency, count or tolerance", "[calc][timing]")
{
    CHECK(refused("timing.limits", R"({"interrupting_cycles":"3 cycles","frequency":"5 kHz"})").where ==
          "inputs.frequency");
    CHECK(refused("timing.limits", R"({"interrupting_cycles":"0 cycles","frequency":"60 Hz"})").where ==
          "inputs.interrupting_cycles");
    CHECK(refused("timing.limits",
                  R"({"interrupting_cycles":"3 cycles","frequency":"60 Hz","tolerance":"3 V"})")
              .where == "inputs.tolerance");
    CHECK(refused("timing.limits",
                  R"({"interrupting_cycles":"3 cycles","frequency":"60 Hz","tolerance":"200 %"})")
              .where == "inputs.tolerance");
}

namespace {

/// Writes a record of a trip at 100 ms: 52b at 130 ms, currents of three poles that end at their own zeros.
class RecordOnDisk {
public:
    explicit RecordOnDisk(double hertz)
    {
        m_folder = std::filesystem::temp_directory_path() / ("isochore-timing-" + std::to_string(::getpid()));
        std::filesystem::create_directories(m_folder);
        int const count = static_cast<int>(0.3 * hertz);
        std::ofstream cfg(m_folder / "trip.CFG");
        cfg << "demo,own,1999\n5,3A,2D\n";
        for (int i = 0; i < 3; ++i)
            cfg << i + 1 << ",I"
                << "abc"[i] << ",,,kA,0.001,0,0,-99998,99998,1,1,P\n";
        cfg << "1,trip coil,,,0\n2,52b,,,0\n50\n1\n"
            << hertz << "," << count
            << "\n01/01/2020,00:00:00.000000\n01/01/2020,00:00:00.100000\nASCII\n1\n";
        std::ofstream dat(m_folder / "trip.DAT");
        double const ends[] = {0.1500, 0.1533333, 0.1566667};
        for (int n = 0; n < count; ++n) {
            double const t = n / hertz;
            dat << n + 1 << ",";
            for (double end : ends)
                dat << ","
                    << (t < end ? std::lround(10000 * std::sin(2 * std::numbers::pi * 50 * (t - end))) : 0);
            dat << "," << (t >= 0.1 ? 1 : 0) << "," << (t >= 0.13 ? 1 : 0) << "\n";
        }
    }
    ~RecordOnDisk() { std::filesystem::remove_all(m_folder); }
    RecordOnDisk(RecordOnDisk const&) = delete;
    RecordOnDisk& operator=(RecordOnDisk const&) = delete;
    [[nodiscard]] std::string path() const { return (m_folder / "trip").string(); }

private:
    std::filesystem::path m_folder;
};

std::string inputs(RecordOnDisk const& record, char const* more)
{
    return R"({"path":")" + record.path() +
           R"(","roles":{"trip":"trip coil","contacts":"52b","currents":["Ia","A2","ic"]})" + more + "}";
}

} // namespace

TEST_CASE("timing.record finds trip, contact and clearing times of a record on disk", "[calc][timing]")
{
    RecordOnDisk const record(4000.0);
    auto const a =
        answered("timing.record", inputs(record, R"(,"clearing_limit":"60 ms","contact_limit":"29 ms")"));
    CHECK(value_of(a, "trip_time") == Approx(0.1).epsilon(0).margin(0.25e-3));
    CHECK(value_of(a, "contact_time") == Approx(0.03).epsilon(0).margin(0.25e-3));
    CHECK(value_of(a, "clearing_time") == Approx(0.0566667).epsilon(0).margin(0.5e-3));
    CHECK(value_of(a, "pole_spread") == Approx(0.0066667).epsilon(0).margin(0.5e-3));
    CHECK(has_note(a, "a sixth of a cycle apart"));
    CHECK(check_verdict(a, "clearing_time") == Verdict::pass);
    CHECK(check_verdict(a, "contact_time") == Verdict::fail);
}

TEST_CASE("a limit inside the sampling interval is undecided and asks for a faster record", "[calc][timing]")
{
    RecordOnDisk const record(1000.0);
    auto const a = answered("timing.record", inputs(record, R"(,"contact_limit":"30.1 ms")"));
    CHECK(check_verdict(a, "contact_time") == Verdict::undecided);
    CHECK(a.checks.front().remedy.find("kHz") != std::string::npos);
}

TEST_CASE("without roles the channels are listed to choose from", "[calc][timing]")
{
    RecordOnDisk const record(1000.0);
    auto const a = answered("timing.record", R"({"path":")" + record.path() + R"("})");
    CHECK(a.facts["analog"].size() == 3);
    CHECK(a.facts["digital"][1]["name"] == "52b");
    CHECK(a.facts["digital"][1]["changes"] == 1);
    CHECK(value_of(a, "trigger") == Approx(0.1).epsilon(1e-6));
}

TEST_CASE("a missing file, channel or role is named", "[calc][timing]")
{
    CHECK(refused("timing.record", R"({"path":"/nowhere/at/all.cfg"})").code == Error::Code::not_found);
    RecordOnDisk const record(1000.0);
    std::string const path = R"({"path":")" + record.path() + R"(","roles":)";
    CHECK(refused("timing.record", path + R"({"trip":"none"}})").where == "inputs.roles.trip");
    CHECK(refused("timing.record", path + R"({"currents":["Ia"]}})").where == "inputs.roles");
    CHECK(refused("timing.record", path + R"({"trip":"trip coil","currents":["I9"]}})").where ==
          "inputs.roles.currents");
    CHECK(refused("timing.record", path + R"({"trip":"trip coil","contacts":[1]}})").where ==
          "inputs.roles.contacts");
}
