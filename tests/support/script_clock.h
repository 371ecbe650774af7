#pragma once
#include <cstdio>
#include <cstdlib>
#include <string>

namespace isochore::test {

/// The set clock of a job script that is run in parts: each part begins where the "later" lines of those before
/// it left it.
class ScriptClock {
public:
    void pass(std::string const& line)
    {
        if (line.starts_with("later "))
            m_seconds += std::atol(line.c_str() + 6);
    }
    /// "2026-03-02T08:01:30Z"; a working day is enough for an outage.
    [[nodiscard]] std::string text() const
    {
        char text[40];
        long const at = 8 * 3600 + m_seconds;
        std::snprintf(text, sizeof text, "2026-03-02T%02ld:%02ld:%02ldZ", at / 3600, at / 60 % 60, at % 60);
        return text;
    }

private:
    long m_seconds = 0;
};

} // namespace isochore::test
