#include "window/chime.h"
#include <SDL.h>
#include <cmath>
#include <numbers>

namespace isochore::window {

namespace {

constexpr int rate_hz = 44100;
constexpr double note_s = 0.18, repeat_s = 30.0;

} // namespace

std::vector<std::int16_t> chime_samples(int rate)
{
    // A fifth (3:2) is heard over machines; both notes are where hearing is keen and small loudspeakers work.
    constexpr double first_hz = 1320.0, second_hz = 1980.0, loudness = 0.5 * 32767.0;
    auto const per_note = static_cast<std::size_t>(note_s * rate);
    std::vector<std::int16_t> samples;
    samples.reserve(2 * per_note);
    for (double const hz : {first_hz, second_hz})
        for (std::size_t i = 0; i < per_note; ++i) {
            double const t = static_cast<double>(i) / rate,
                         share = static_cast<double>(i) / static_cast<double>(per_note);
            // Begins and ends at nothing: a step would click.
            double const envelope = std::sin(std::numbers::pi * std::sqrt(share));
            samples.push_back(static_cast<std::int16_t>(
                std::lround(loudness * envelope * std::sin(2.0 * std::numbers::pi * hz * t))));
        }
    return samples;
}

bool Chime::follow(bool due, double now_s)
{
    if (m_device != 0 && SDL_GetQueuedAudioSize(m_device) == 0 && now_s - m_sounded_at > 3 * note_s)
        close();
    if (!due) {
        m_sounded_at = -1.0;
        return false;
    }
    if (m_sounded_at >= 0.0 && now_s - m_sounded_at < repeat_s)
        return false;
    m_sounded_at = now_s;
    if (!m_silent)
        play();
    return true;
}

void Chime::play()
{
    if (SDL_WasInit(SDL_INIT_AUDIO) == 0 && SDL_InitSubSystem(SDL_INIT_AUDIO) != 0)
        return;
    if (m_device == 0) {
        SDL_AudioSpec wanted{};
        wanted.freq = rate_hz;
        wanted.format = AUDIO_S16SYS;
        wanted.channels = 1;
        wanted.samples = 1024;
        m_device = SDL_OpenAudioDevice(nullptr, 0, &wanted, nullptr, 0);
        if (m_device == 0)
            return;
    }
    auto const samples = chime_samples(rate_hz);
    SDL_QueueAudio(m_device, samples.data(), static_cast<Uint32>(samples.size() * sizeof(samples.front())));
    SDL_PauseAudioDevice(m_device, 0);
}

void Chime::close()
{
    if (m_device == 0)
        return;
    SDL_CloseAudioDevice(m_device);
    m_device = 0;
}

} // namespace isochore::window
