#pragma once
#include <cstdint>
#include <deque>
#include <functional>
#include <map>
#include <optional>
#include <vector>

/// Fingers to gestures. Pure: times come with the events, sizes are millimetres, no display is known.
namespace isochore::touch {

struct Point {
    double x = 0.0, y = 0.0;
};

/// One event of one contact, as the display reports it.
struct PointerEvent {
    enum class Kind { down, move, up, cancel };
    Kind kind = Kind::down;
    std::int64_t contact = 0;
    Point at; ///< mm
    double time_s = 0.0;
    bool mouse = false;
};

/// What lies under a point, asked when a contact begins.
enum class Under {
    plain, ///< a lift in place is a tap, a move is a pan
    hold,  ///< must be held
    pad,   ///< every move is drawn, nothing scrolls
};

/// What happened since the last call; the screens draw from this.
struct Gestures {
    std::optional<Point> pressed;
    double held_s = 0.0;
    std::optional<Point> tap, hold;
    struct Pan {
        Point origin;
        double dx = 0.0, dy = 0.0;
        bool coasting = false;
    };
    std::optional<Pan> pan;
    std::vector<Point> drawn;
    bool drawing_began = false, drawing_ended = false;
};

/// Figures of the gestures. All are common practice, no source, but for the hold, which is the design's.
struct Limits {
    double slop_mm = 2.8;         ///< a glove rolls this far and still taps
    double hold_s = 0.6;          ///< until an act that cannot be taken back is done
    double grip_mm = 3.5;         ///< a contact born this close to the edge is the hand that holds the tablet
    double resting_s = 3.0;       ///< a contact that lies still this long no longer blocks others
    double friction_s = 0.325;    ///< time constant of a coast
    double coast_min_mm_s = 12.0; ///< slower than this a coast ends, or never starts
    double velocity_window_s = 0.1; ///< of moves before the lift that set the speed of the coast
};

/// Turns a queue of events into gestures, one event a frame so that a touch down and up that arrive together
/// are still seen as a press and then a tap. A second finger, or a palm, cancels what the first began.
class Recogniser {
public:
    explicit Recogniser(Limits limits = {}) : m_limits(limits) {}

    void resize(double width_mm, double height_mm);
    void push(PointerEvent const& event) { m_queue.push_back(event); }

    /// Takes the next event, if any, and the passing of time. `under` says what lies under a point now.
    [[nodiscard]] Gestures next(double now_s, std::function<Under(Point)> const& under);

    /// True when `next` has more to tell at once.
    [[nodiscard]] bool pending() const { return !m_queue.empty(); }
    /// True while time alone changes what is seen: a coast, or a hold that fills.
    [[nodiscard]] bool animating() const;
    /// Ends a coast: it reached the end of what it scrolls.
    void stop_coast() { m_coast.reset(); }
    /// Forgets all contacts: the window lost the focus.
    void forget();

private:
    struct Contact {
        Point began, at;
        double began_s = 0.0, moved_s = 0.0;
        Under under = Under::plain;
        bool panning = false, held = false, dead = false, grip = false;
        std::deque<PointerEvent> trail; ///< of the last moments, for the speed
    };
    struct Coast {
        Point origin;
        double vx = 0.0, vy = 0.0, last_s = 0.0;
    };
    void down(PointerEvent const& event, std::function<Under(Point)> const& under, Gestures& out);
    void move(PointerEvent const& event, Gestures& out);
    void up(PointerEvent const& event, Gestures& out);
    void coast(double now_s, Gestures& out);
    [[nodiscard]] bool near_edge(Point p) const;
    void start_coast(Contact const& contact, double now_s);

    Limits m_limits;
    double m_width = 0.0, m_height = 0.0;
    std::deque<PointerEvent> m_queue;
    std::map<std::int64_t, Contact> m_contacts;
    std::optional<Coast> m_coast;
};

} // namespace isochore::touch
