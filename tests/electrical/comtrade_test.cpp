#include "electrical/comtrade.h"
#include "electrical/operation.h"
#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>
#include <fstream>
#include <numbers>
#include <sstream>

using namespace isochore;
using namespace isochore::electrical;

namespace {

std::string slurp(std::string const& name)
{
    std::ifstream file(ISOCHORE_SHARED_DATA "/comtrade/" + name, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

bool shared_here()
{
    if (std::ifstream(ISOCHORE_SHARED_DATA "/comtrade/sample_ascii.cfg"))
        return true;
    WARN("skipped: the shared data are not here");
    return false;
}

/// A small own record: one analogue channel, `digital` digital ones.
std::string cfg(std::string const& kind, std::string const& rates = "1\n1000,4", int digital = 1,
                std::string const& year = ",2013")
{
    std::string text = "here,device" + year + "\n" + std::to_string(1 + digital) + ",1A," +
                       std::to_string(digital) + "D\n1,i,A,,A,0.5,1,0,-32767,32767,400,1,P\n";
    for (int i = 1; i <= digital; ++i)
        text += std::to_string(i) + ",d" + std::to_string(i) + ",,,0\n";
    return text + "50\n" + rates + "\n01/02/2020,10:00:00.000000\n01/02/2020,10:00:00.002000\n" + kind +
           "\n1\n";
}

std::string bytes(std::initializer_list<int> list)
{
    std::string out;
    for (int b : list)
        out += static_cast<char>(b);
    return out;
}

} // namespace

TEST_CASE("the sample ASCII record has 40 samples over 39 intervals of 1200 Hz", "[electrical][comtrade]")
{
    if (!shared_here())
        return;
    auto const r = read_comtrade(slurp("sample_ascii.cfg"), slurp("sample_ascii.dat"), "sample_ascii");
    REQUIRE(r);
    CHECK(r->revision == 2013);
    CHECK(r->analog.size() == 4);
    CHECK(r->digital.size() == 4);
    REQUIRE(r->times_s.size() == 40);
    CHECK(r->times_s.front() == 0.0);
    CHECK(r->times_s.back() == Approx(39.0 / 1200.0).epsilon(1e-12));
    CHECK(r->analog[0].values[0] == Approx(0.1138916015625 * -83 + 0.05694580078125).epsilon(1e-14));
    CHECK_FALSE(r->analog[0].primary_values);
    CHECK(r->trigger_s.value() == Approx(0.00325).epsilon(0).margin(1e-9));
    CHECK(r->warnings.empty());
}

TEST_CASE("the one-file form holds the same record as the two files", "[electrical][comtrade]")
{
    if (!shared_here())
        return;
    auto const two = read_comtrade(slurp("sample_ascii.cfg"), slurp("sample_ascii.dat"), "a");
    auto const one = read_comtrade_cff(slurp("sample_ascii.cff"), "a");
    REQUIRE(two);
    REQUIRE(one);
    CHECK(one->times_s == two->times_s);
    for (std::size_t i = 0; i < 4; ++i) {
        CHECK(one->analog[i].values == two->analog[i].values);
        CHECK(one->digital[i].values == two->digital[i].values);
    }
}

TEST_CASE("the sample binary record has 18-byte records with the raw values measured on it",
          "[electrical][comtrade]")
{
    if (!shared_here())
        return;
    auto const r = read_comtrade(slurp("sample_bin.cfg"), slurp("sample_bin.dat"), "sample_bin");
    REQUIRE(r);
    REQUIRE(r->times_s.size() == 5);
    CHECK(r->revision == 1999);
    CHECK(r->digital.size() == 16);
    // Raw -24979, -3905, 27726, 12313 times the multipliers of the .cfg: VA is -9.0386 kV.
    CHECK(r->analog[0].values[0] == Approx(-24979 * 0.000361849).epsilon(1e-14));
    CHECK(r->analog[1].values[0] == Approx(-3905 * 0.000365758).epsilon(1e-14));
    CHECK(r->analog[2].values[0] == Approx(27726 * 0.000371569).epsilon(1e-14));
    CHECK(r->analog[3].values[0] == Approx(12313 * 0.000016493).epsilon(1e-14));
    CHECK(r->times_s.back() == Approx(4.0 / 15360.0).epsilon(1e-12));
    REQUIRE(r->warnings.size() == 1);
    CHECK(r->warnings[0].find("stamps do not move") != std::string::npos);
}

TEST_CASE("a binary record marks missing samples with the most negative number", "[electrical][comtrade]")
{
    if (!shared_here())
        return;
    auto const r = read_comtrade(slurp("sample_bin.cfg"), slurp("sample_bin_missing.dat"), "m");
    REQUIRE(r);
    int missing = 0;
    for (auto const& c : r->analog)
        for (double v : c.values)
            missing += std::isnan(v) ? 1 : 0;
    CHECK(missing > 0);
    CHECK(missing < 20);
}

TEST_CASE("99999 outside a channel's range is a missing sample, not a value", "[electrical][comtrade]")
{
    if (!shared_here())
        return;
    auto const r = read_comtrade(slurp("sample_ascii.cfg"), slurp("sample_ascii_missing.dat"), "m");
    REQUIRE(r);
    CHECK(std::isnan(r->analog[0].values[1]));
    CHECK(std::isnan(r->analog[1].values[2]));
    CHECK(r->analog[0].values[2] == Approx(0.1138916015625 * 55 + 0.05694580078125));
    CHECK(peak(r->analog[0]) < 1000.0);
}

TEST_CASE("a record in Latin-1 is read and says that its names may be wrong", "[electrical][comtrade]")
{
    if (!shared_here())
        return;
    auto const r = read_comtrade(slurp("sample_iso8859-1.cfg"), slurp("sample_iso8859-1.dat"), "l");
    REQUIRE(r);
    CHECK(r->times_s.size() == 40);
    CHECK(std::any_of(r->warnings.begin(), r->warnings.end(),
                      [](auto const& w) { return w.find("Latin-1") != std::string::npos; }));
}

TEST_CASE("83 rate segments of a non-standard year add up in time", "[electrical][comtrade]")
{
    if (!shared_here())
        return;
    std::string const head = slurp("real1.cfg");
    auto const r = read_comtrade(head, slurp("real1.dat"), "real1");
    REQUIRE(r);
    CHECK(r->revision == 1999);
    CHECK(r->rates.size() == 83);
    REQUIRE(r->times_s.size() == 5316);
    // Added up here from the rates alone: sample n+1 comes one interval of its own segment after n.
    double sum = 0.0;
    std::size_t segment = 0;
    for (std::size_t n = 1; n < 5316; ++n) {
        while (static_cast<std::int64_t>(n) >= r->rates[segment].last_sample)
            ++segment;
        sum += 1.0 / r->rates[segment].hertz;
    }
    CHECK(r->times_s.back() == Approx(sum).epsilon(1e-9));
    CHECK(std::is_sorted(r->times_s.begin(), r->times_s.end()));
}

TEST_CASE("a 32-bit record whose numbers start at 0 and whose trigger is unset is read whole",
          "[electrical][comtrade]")
{
    if (!shared_here())
        return;
    auto const r = read_comtrade(slurp("real5.cfg"), slurp("real5.dat"), "real5");
    REQUIRE(r);
    CHECK(r->data == ComtradeData::binary32);
    CHECK(r->analog.size() == 37);
    CHECK(r->digital.size() == 300);
    CHECK(r->times_s.size() == 202);
    CHECK_FALSE(r->trigger_s);
}

TEST_CASE("trailing end-of-file bytes of old systems are not part of the last line", "[electrical][comtrade]")
{
    if (!shared_here())
        return;
    auto const r = read_comtrade(slurp("sample_sub_char.cfg"), slurp("sample_ascii.dat"), "s");
    REQUIRE(r);
    CHECK(r->times_s.size() == 40);
}

TEST_CASE("ASCII with blank stamps, CR LF and lower-case type uses the rate", "[electrical][comtrade]")
{
    auto const r = read_comtrade(cfg("ascii"), "1,,2,0\r\n2,,4,0\r\n3,,,1\r\n4,,-2,1\r\n\x1a\x1a", "own");
    REQUIRE(r);
    REQUIRE(r->times_s.size() == 4);
    CHECK(r->times_s[3] == Approx(0.003));
    CHECK(r->analog[0].values[0] == 2.0); // 0.5 x 2 + 1
    CHECK(std::isnan(r->analog[0].values[2]));
    CHECK(r->digital[0].values == std::vector<std::uint8_t>{0, 0, 1, 1});
    CHECK(r->analog[0].primary_values);
}

TEST_CASE("without a rate the stamps times their multiplier are the clock", "[electrical][comtrade]")
{
    std::string head = cfg("ASCII", "0\n0,3");
    head.replace(head.rfind("1\n"), 2, "10\n");
    auto const r = read_comtrade(head, "1,500,0,0\n2,600,0,0\n3,800,0,1\n", "own");
    REQUIRE(r);
    CHECK(r->times_s[1] == Approx(0.001));
    CHECK(r->times_s[2] == Approx(0.003));
    CHECK_FALSE(read_comtrade(head, "1,500,0,0\n2,500,0,0\n", "own"));
    CHECK_FALSE(read_comtrade(head, "1,500,0,0\n2,,0,0\n", "own"));
}

TEST_CASE("nanosecond times in the header make the stamps nanoseconds", "[electrical][comtrade]")
{
    std::string head = cfg("ASCII", "0\n0,2");
    for (std::string const seconds : {"00.000000", "00.002000"})
        head.replace(head.find(seconds), seconds.size(), seconds + "000");
    auto const r = read_comtrade(head, "1,0,0,0\n2,1000000,0,0\n", "own");
    REQUIRE(r);
    CHECK(r->times_s[1] == Approx(0.001));
}

TEST_CASE("FLOAT32 and the bits of more than sixteen digital channels are read", "[electrical][comtrade]")
{
    std::string dat = bytes({1, 0, 0, 0, 0xFF, 0xFF, 0xFF, 0xFF});
    float const value = -12.5f;
    char raw[4];
    std::memcpy(raw, &value, 4);
    dat.append(raw, 4);
    dat += bytes({0x01, 0x80, 0x02, 0x00}); // d1, d16 and d18
    auto const r = read_comtrade(cfg("float32", "1\n1000,1", 18), dat, "own");
    REQUIRE(r);
    CHECK(r->analog[0].values[0] == Approx(0.5 * -12.5 + 1.0));
    for (std::size_t d = 0; d < 18; ++d) {
        CAPTURE(d);
        CHECK(r->digital[d].values[0] == (d == 0 || d == 15 || d == 17 ? 1 : 0));
    }
}

TEST_CASE("a record of 1991 has the month first and three fields for a digital channel",
          "[electrical][comtrade]")
{
    auto const r = read_comtrade("here,device\n2,1A,1D\n1,i,A,,A,1,0,0,-99999,99999\n1,d1,1\n50\n1\n1000,2\n"
                                 "12/31/98,23:59:59.999000\n01/01/99,00:00:00.001000\nASCII\n",
                                 "1,0,7,1\n2,1000,99999,0\n", "old");
    REQUIRE(r);
    CHECK(r->revision == 1991);
    CHECK(r->digital[0].normal);
    CHECK(r->trigger_s.value() == Approx(0.002).epsilon(0).margin(1e-9));
    CHECK(std::isnan(r->analog[0].values[1]));
}

TEST_CASE("a cut, padded or lying record is said to be so", "[electrical][comtrade]")
{
    auto const cut = read_comtrade(cfg("ASCII"), "1,0,1,0\n2,1000,1,0\n", "own");
    REQUIRE(cut);
    CHECK(cut->warnings.at(0).find("cut short: 2 samples of 4") != std::string::npos);
    auto const more = read_comtrade(cfg("ASCII", "1\n1000,1"), "1,0,1,0\n2,1000,1,0\n", "own");
    REQUIRE(more);
    CHECK(more->times_s.size() == 1);
    CHECK(more->digital[0].values.size() == 1);
    auto const unit = read_comtrade(cfg("ASCII"), "1,0,1,0\n2,1,1,0\n3,2,1,0\n4,3,1,0\n", "own");
    REQUIRE(unit);
    CHECK(unit->warnings.at(0).find("the rate is the clock") != std::string::npos);
}

TEST_CASE("broken headers are refused with the line", "[electrical][comtrade]")
{
    auto const where = [](std::string const& head) {
        auto const r = read_comtrade_cfg(head, "own");
        return r ? std::string("read") : r.error().where;
    };
    CHECK(where("") == "own.cfg:0");
    CHECK(where("a,b,1999\n2,1X,1D\n") == "own.cfg:2");
    CHECK(where("a,b,1999\n2,99999999A,1D\n") == "own.cfg:2");
    CHECK(where("a,b,1999\n1,1A,0D\n1,i,,,A,nonsense,0\n") == "own.cfg:3");
    CHECK(where("a,b,1999\n1,0A,0D\n50\n1\n-5,10\n") == "own.cfg:5");
    CHECK(where("a,b,1999\n1,0A,0D\n50\n2\n1000,10\n1000,5\n") == "own.cfg:6");
    std::string wrong = cfg("PAPER");
    CHECK(where(wrong).starts_with("own.cfg:"));
    CHECK_FALSE(read_comtrade(cfg("BINARY"), "short", "own"));
    CHECK_FALSE(read_comtrade(cfg("ASCII"), "1,0\n", "own"));
    CHECK_FALSE(read_comtrade(cfg("ASCII"), "1,0,x,0\n", "own"));
    CHECK_FALSE(read_comtrade_cff("no separators", "own"));
}

TEST_CASE("no cut or flipped byte of a record crashes the reader", "[electrical][comtrade][property]")
{
    std::string const head = cfg("BINARY", "2\n1000,2\n2000,4", 3);
    std::string const data(4 * (8 + 2 + 2), '\x11');
    int read = 0, refused = 0;
    for (std::size_t i = 0; i <= head.size(); ++i) {
        (read_comtrade(head.substr(0, i), data, "own") ? read : refused) += 1;
        for (int flip : {0x01, 0x10, 0x80}) {
            std::string changed = head;
            if (i < changed.size())
                changed[i] = static_cast<char>(changed[i] ^ flip);
            auto const r = read_comtrade(changed, data, "own");
            (r ? read : refused) += 1;
            if (r) {
                for (auto const& c : r->analog)
                    REQUIRE(c.values.size() == r->times_s.size());
                for (auto const& c : r->digital)
                    REQUIRE(c.values.size() == r->times_s.size());
            }
        }
    }
    CHECK(read > 50);
    CHECK(refused > 50);
}
