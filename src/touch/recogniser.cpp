#include "touch/recogniser.h"
#include <algorithm>
#include <cmath>

namespace isochore::touch {

namespace {

double distance(Point a, Point b)
{
    return std::hypot(a.x - b.x, a.y - b.y);
}

} // namespace

void Recogniser::resize(double width_mm, double height_mm)
{
    m_width = width_mm;
    m_height = height_mm;
}

void Recogniser::forget()
{
    m_queue.clear();
    m_contacts.clear();
    m_coast.reset();
}

bool Recogniser::near_edge(Point p) const
{
    double const e = m_limits.grip_mm;
    return m_width > 0.0 && (p.x < e || p.y < e || p.x > m_width - e || p.y > m_height - e);
}

bool Recogniser::animating() const
{
    if (m_coast)
        return true;
    return std::any_of(m_contacts.begin(), m_contacts.end(), [](auto const& entry) {
        Contact const& c = entry.second;
        return !c.dead && !c.grip && !c.panning && !c.held && c.under == Under::hold;
    });
}

void Recogniser::down(PointerEvent const& event, std::function<Under(Point)> const& under, Gestures& out)
{
    bool const stopped_coast = m_coast.has_value();
    m_coast.reset();
    Contact fresh;
    fresh.began = fresh.at = event.at;
    fresh.began_s = fresh.moved_s = event.time_s;
    fresh.grip = !event.mouse && near_edge(event.at);
    fresh.under = under(event.at);
    fresh.trail.push_back(event);
    // A touch that stops a coast was meant to stop it, not to tap what happens to run past.
    fresh.dead = stopped_coast && fresh.under != Under::pad;
    bool second = false;
    for (auto& [id, other] : m_contacts) {
        if (other.grip || id == event.contact)
            continue;
        bool const resting = !other.panning && event.time_s - other.moved_s > m_limits.resting_s;
        second = second || !resting;
        if (other.under == Under::pad && !other.dead)
            out.drawing_ended = true;
        if (!fresh.grip)
            other.dead = true;
    }
    if (second && !fresh.grip)
        fresh.dead = true; // two fingers mean nothing here: neither does anything
    if (!fresh.dead && !fresh.grip && fresh.under == Under::pad) {
        out.drawing_began = true;
        out.drawn.push_back(event.at);
    }
    m_contacts[event.contact] = fresh;
}

void Recogniser::move(PointerEvent const& event, Gestures& out)
{
    auto const found = m_contacts.find(event.contact);
    if (found == m_contacts.end())
        return;
    Contact& c = found->second;
    Point const before = c.at;
    c.at = event.at;
    if (distance(event.at, before) > 0.15)
        c.moved_s = event.time_s;
    if (c.dead || c.grip || c.held)
        return;
    if (c.under == Under::pad) {
        out.drawn.push_back(event.at);
        return;
    }
    c.trail.push_back(event);
    while (c.trail.size() > 2 && event.time_s - c.trail.front().time_s > m_limits.velocity_window_s)
        c.trail.pop_front();
    if (!c.panning && distance(event.at, c.began) > m_limits.slop_mm) {
        c.panning = true; // from here on: what was within the slop is not made up for, so nothing jumps
        return;
    }
    if (c.panning)
        out.pan = Gestures::Pan{c.began, event.at.x - before.x, event.at.y - before.y, false};
}

void Recogniser::start_coast(Contact const& c, double now_s)
{
    if (c.trail.size() < 2)
        return;
    PointerEvent const &a = c.trail.front(), &b = c.trail.back();
    double const dt = b.time_s - a.time_s;
    // A finger that stopped before it lifted wanted to stop there.
    if (dt <= 0.0 || now_s - b.time_s > m_limits.velocity_window_s)
        return;
    double const vx = (b.at.x - a.at.x) / dt, vy = (b.at.y - a.at.y) / dt;
    if (std::hypot(vx, vy) > 2 * m_limits.coast_min_mm_s)
        m_coast = Coast{c.began, vx, vy, now_s};
}

void Recogniser::up(PointerEvent const& event, Gestures& out)
{
    auto const found = m_contacts.find(event.contact);
    if (found == m_contacts.end())
        return;
    Contact const c = found->second;
    m_contacts.erase(found);
    if (c.dead || c.grip || c.held)
        return;
    if (c.under == Under::pad) {
        out.drawing_ended = true;
        return;
    }
    if (event.kind == PointerEvent::Kind::cancel)
        return;
    if (c.panning)
        start_coast(c, event.time_s);
    else if (distance(event.at, c.began) <= m_limits.slop_mm)
        out.tap = c.began; // where it was aimed, not where the glove rolled to
}

void Recogniser::coast(double now_s, Gestures& out)
{
    if (!m_coast || out.pan)
        return;
    double const dt = std::clamp(now_s - m_coast->last_s, 0.0, 0.1);
    if (dt <= 0.0)
        return;
    // Exact integral of an exponential decay, so that the way covered does not depend on the frame rate.
    double const decay = std::exp(-dt / m_limits.friction_s), way = m_limits.friction_s * (1.0 - decay);
    out.pan = Gestures::Pan{m_coast->origin, m_coast->vx * way, m_coast->vy * way, true};
    m_coast->vx *= decay;
    m_coast->vy *= decay;
    m_coast->last_s = now_s;
    if (std::hypot(m_coast->vx, m_coast->vy) < m_limits.coast_min_mm_s)
        m_coast.reset();
}

Gestures Recogniser::next(double now_s, std::function<Under(Point)> const& under)
{
    Gestures out;
    // Moves in a row are one move; anything else is one event a frame.
    while (!m_queue.empty()) {
        PointerEvent const event = m_queue.front();
        m_queue.pop_front();
        if (event.kind == PointerEvent::Kind::move) {
            auto const earlier = out.pan;
            move(event, out);
            if (earlier && out.pan) {
                out.pan->dx += earlier->dx;
                out.pan->dy += earlier->dy;
            }
            if (!m_queue.empty() && m_queue.front().kind == PointerEvent::Kind::move)
                continue;
            break;
        }
        if (event.kind == PointerEvent::Kind::down)
            down(event, under, out);
        else
            up(event, out);
        break;
    }
    coast(now_s, out);
    for (auto& [id, c] : m_contacts) {
        if (c.dead || c.grip || c.panning || c.under == Under::pad)
            continue;
        out.pressed = c.began;
        out.held_s = std::max(0.0, now_s - c.began_s);
        if (c.under == Under::hold && !c.held && out.held_s >= m_limits.hold_s) {
            c.held = true;
            out.hold = c.began;
        }
    }
    return out;
}

} // namespace isochore::touch
