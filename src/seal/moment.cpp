#include "seal/moment.h"
#include <charconv>
#include <chrono>
#include <fmt/format.h>

namespace isochore::seal {

std::string moment_text(std::int64_t utc_ms)
{
    using namespace std::chrono;
    sys_time<milliseconds> const moment{milliseconds(utc_ms)};
    auto const day = floor<days>(moment);
    year_month_day const date(day);
    hh_mm_ss const time(moment - day);
    return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}.{:03}Z", static_cast<int>(date.year()),
                       static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                       time.hours().count(), time.minutes().count(), time.seconds().count(),
                       time.subseconds().count());
}

std::optional<std::int64_t> moment_ms(std::string_view text)
{
    using namespace std::chrono;
    auto const number = [&](std::size_t from, std::size_t count) {
        int value = -1;
        if (text.size() >= from + count)
            std::from_chars(text.data() + from, text.data() + from + count, value);
        return value;
    };
    year_month_day const date{year(number(0, 4)), month(static_cast<unsigned>(number(5, 2))),
                              day(static_cast<unsigned>(number(8, 2)))};
    if (!date.ok())
        return std::nullopt;
    auto const moment = sys_days(date) + hours(number(11, 2)) + minutes(number(14, 2)) +
                        seconds(number(17, 2)) + milliseconds(number(20, 3));
    std::int64_t const ms = duration_cast<milliseconds>(moment.time_since_epoch()).count();
    if (moment_text(ms) != text) // one form only
        return std::nullopt;
    return ms;
}

} // namespace isochore::seal
