#include "session/clock.h"
#include <chrono>
#include <cstdio>
#include <ctime>
#include <fmt/format.h>
#include <random>

namespace isochore::session {

SystemClock::SystemClock()
{
    std::random_device source;
    m_run = fmt::format("{:08x}", source());
}

Now SystemClock::now()
{
    using namespace std::chrono;
    Now now;
    now.utc_ms = duration_cast<milliseconds>(system_clock::now().time_since_epoch()).count();
    // Goes on while the tablet sleeps, as the steady clock of the library does not: a reading taken after a
    // nap is as late as it is, and no clock was set.
    timespec boot{};
    ::clock_gettime(CLOCK_BOOTTIME, &boot);
    now.mono_s = static_cast<double>(boot.tv_sec) + static_cast<double>(boot.tv_nsec) * 1e-9;
    now.run = m_run;
    std::time_t const seconds = static_cast<std::time_t>(now.utc_ms / 1000);
    std::tm local{};
    localtime_r(&seconds, &local);
    now.zone_minutes = static_cast<int>(local.tm_gmtoff / 60);
    return now;
}

std::string stamp(Now const& now)
{
    std::time_t const seconds = static_cast<std::time_t>(now.utc_ms / 1000 + now.zone_minutes * 60);
    std::tm t{};
    gmtime_r(&seconds, &t);
    int const zone = now.zone_minutes < 0 ? -now.zone_minutes : now.zone_minutes;
    return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}{}{:02}:{:02}", t.tm_year + 1900, t.tm_mon + 1,
                       t.tm_mday, t.tm_hour, t.tm_min, t.tm_sec, now.zone_minutes < 0 ? '-' : '+', zone / 60,
                       zone % 60);
}

std::string utc_stamp(Now now)
{
    now.zone_minutes = 0;
    return stamp(now).substr(0, 19) + "Z";
}

std::int64_t stamp_ms(std::string const& stamp)
{
    int year = 0, month = 0, day = 0, hour = 0, minute = 0, second = 0, zone_hour = 0, zone_minute = 0;
    char sign = '+';
    if (std::sscanf(stamp.c_str(), "%4d-%2d-%2dT%2d:%2d:%2d%c%2d:%2d", &year, &month, &day, &hour, &minute,
                    &second, &sign, &zone_hour, &zone_minute) != 9)
        return 0;
    using namespace std::chrono;
    auto const date = sys_days{std::chrono::year{year} / month / day};
    std::int64_t seconds = duration_cast<std::chrono::seconds>(date.time_since_epoch()).count();
    seconds += hour * 3600 + minute * 60 + second;
    seconds -= (sign == '-' ? -1 : 1) * (zone_hour * 3600 + zone_minute * 60);
    return seconds * 1000;
}

std::string clock_time(std::string const& stamp)
{
    return stamp.size() >= 16 ? stamp.substr(11, 5) : stamp;
}

std::string calendar_day(std::string const& stamp)
{
    return stamp.size() >= 10 ? stamp.substr(0, 10) : stamp;
}

} // namespace isochore::session
