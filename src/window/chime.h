#pragma once
#include <cstdint>
#include <vector>

namespace isochore::window {

/// Two rising notes that fade out, as signed 16-bit samples of one channel.
[[nodiscard]] std::vector<std::int16_t> chime_samples(int rate_hz);

/// Calls to a reading that is due while one looks elsewhere. The audio device is open only while it sounds,
/// so that it costs nothing in between; a tablet without sound stays silent.
class Chime {
public:
    Chime() = default;
    ~Chime() { close(); }
    Chime(Chime const&) = delete;
    Chime& operator=(Chime const&) = delete;

    /// Looks at whether a reading is due at this moment, in seconds: sounds when it falls due and twice a
    /// minute as long as it stays so. Says whether it sounded.
    bool follow(bool due, double now_s);
    /// A rehearsal counts the calls and does not sound them.
    void silence() { m_silent = true; }

private:
    void play();
    void close();

    unsigned m_device = 0;
    double m_sounded_at = -1.0;
    bool m_silent = false;
};

} // namespace isochore::window
