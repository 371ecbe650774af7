#pragma once
#include "touch/recogniser.h"
#include "window/chime.h"
#include "window/program.h"
#include "window/surface.h"
#include <functional>
#include <optional>
#include <string>

union SDL_Event;

namespace isochore::window {

/// Turns events into frames: asleep until an event comes, a worker calls, or the program asked for a time.
class Loop {
public:
    Loop(Program& program, Surface& surface);

    /// Takes one SDL event. False when the window was closed.
    bool handle(SDL_Event const& event);
    /// Draws one frame if anything changed; says whether it drew.
    bool frame();
    /// Milliseconds until something changes by itself; -1 for never.
    [[nodiscard]] int sleep_ms();
    void redraw() { m_dirty = true; }

    /// True when nothing is left to draw or to tell.
    [[nodiscard]] bool settled() const { return !m_dirty && !m_fingers.pending() && !m_fingers.animating(); }
    [[nodiscard]] screens::SheetView const& view() const { return m_view; }
    [[nodiscard]] Surface& surface() { return m_surface; }

    void override_theme(std::string name) { m_theme_override = std::move(name); }
    /// How often a due reading was called out.
    [[nodiscard]] int chimes() const { return m_chimes; }
    void silence() { m_chime.silence(); }
    /// Seconds, for the rehearsals, which do not wait for real fingers. Real time by default.
    void override_clock(std::function<double()> clock) { m_clock = std::move(clock); }
    [[nodiscard]] double now() const;

private:
    void finger(SDL_Event const& event);
    void mouse(SDL_Event const& event);
    void window(SDL_Event const& event);
    void key(std::string text);
    void key_down(SDL_Event const& event);
    [[nodiscard]] double time_of(SDL_Event const& event) const;
    [[nodiscard]] touch::Under under(touch::Point p) const;
    [[nodiscard]] screens::FrameInput input();
    void refresh_view();
    void apply_settings();
    void follow_text_input();

    Program& m_program;
    Surface& m_surface;
    touch::Recogniser m_fingers;
    Chime m_chime;
    int m_chimes = 0;
    bool m_sound = true;
    screens::SheetView m_view;
    std::function<double()> m_clock;
    std::string m_theme = "print", m_theme_override;
    std::optional<screens::FrameInput::Pan> m_wheel;
    double m_wake_at = -1.0;
    bool m_dirty = true, m_hidden = false, m_text_input = false, m_was_pressed = false;
};

/// Opens a window and runs `program` in it until it wants to quit or the window is closed. Returns the
/// process's exit code; an error that keeps the window from opening is printed.
int run_window(Program& program, WindowOptions const& options);

/// Makes a sleeping window draw again; may be called from any thread.
void wake_window();

} // namespace isochore::window
