#pragma once
#include <cstdint>
#include <string>

namespace isochore::session {

/// The time as entries carry it: UTC with the zone's offset for people, a monotonic count for durations.
struct Now {
    std::int64_t utc_ms = 0; ///< since 1970-01-01T00:00:00Z
    int zone_minutes = 0;    ///< east of UTC
    double mono_s = 0.0;     ///< never set back while the machine runs, and counting while it sleeps
    std::string run;         ///< one word a run of the program: monotonic counts compare only within it
};

class Clock {
public:
    virtual ~Clock() = default;
    [[nodiscard]] virtual Now now() = 0;
};

/// The system's clocks; `run` is drawn anew for each object.
class SystemClock final : public Clock {
public:
    SystemClock();
    [[nodiscard]] Now now() override;

private:
    std::string m_run;
};

/// A clock that stands still until moved: for rehearsals and tests, so that their output is repeatable.
class SetClock final : public Clock {
public:
    explicit SetClock(std::int64_t utc_ms, std::string run = "set")
    {
        m_now.utc_ms = utc_ms;
        m_now.run = std::move(run);
    }
    void advance(double seconds)
    {
        m_now.utc_ms += static_cast<std::int64_t>(seconds * 1000.0);
        m_now.mono_s += seconds;
    }
    /// Sets the wall clock alone, as a person or a network would.
    void set_wall(std::int64_t utc_ms) { m_now.utc_ms = utc_ms; }
    [[nodiscard]] Now now() override { return m_now; }

private:
    Now m_now;
};

/// "2026-11-25T13:05:09+00:00": local time with its offset (ISO 8601, RFC 3339).
[[nodiscard]] std::string stamp(Now const& now);
/// "2026-11-25T13:05:09Z": the same moment in UTC, for files that others read.
[[nodiscard]] std::string utc_stamp(Now now);
/// Milliseconds since 1970 of such a stamp; 0 when it is not one.
[[nodiscard]] std::int64_t stamp_ms(std::string const& stamp);
/// "13:05" of a stamp, as its own zone shows it.
[[nodiscard]] std::string clock_time(std::string const& stamp);
/// "2026-11-25" of a stamp.
[[nodiscard]] std::string calendar_day(std::string const& stamp);

} // namespace isochore::session
