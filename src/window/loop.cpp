#include "window/loop.h"
#include "screens/fonts.h"
#include "screens/sheet.h"
#include <SDL.h>
#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdio>
#include <cstdlib>

namespace isochore::window {

namespace {

std::atomic<unsigned> wake_event{0};

unsigned register_wake_event()
{
    unsigned known = wake_event.load();
    if (known == 0) {
        known = SDL_RegisterEvents(1);
        wake_event.store(known);
    }
    return known;
}

screens::FrameInput translate(touch::Gestures const& gestures)
{
    auto const point = [](touch::Point p) { return drawing::Point{p.x, p.y}; };
    screens::FrameInput input;
    if (gestures.pressed)
        input.pressed = point(*gestures.pressed);
    if (gestures.tap)
        input.tap = point(*gestures.tap);
    if (gestures.hold)
        input.hold = point(*gestures.hold);
    if (gestures.pan)
        input.pan = screens::FrameInput::Pan{point(gestures.pan->origin), gestures.pan->dx, gestures.pan->dy};
    input.held_s = gestures.held_s;
    for (auto const& p : gestures.drawn)
        input.drawn.push_back(point(p));
    input.drawing_began = gestures.drawing_began;
    input.drawing_ended = gestures.drawing_ended;
    return input;
}

} // namespace

Loop::Loop(Program& program, Surface& surface) : m_program(program), m_surface(surface)
{
    register_wake_event();
}

double Loop::now() const
{
    return m_clock ? m_clock() : static_cast<double>(SDL_GetTicks64()) / 1000.0;
}

double Loop::time_of(SDL_Event const& event) const
{
    return m_clock ? m_clock() : event.common.timestamp / 1000.0;
}

touch::Under Loop::under(touch::Point p) const
{
    auto const& elements = m_surface.canvas().elements();
    for (auto it = elements.rbegin(); it != elements.rend(); ++it) {
        if (!it->touchable() || it->covered || !it->enabled || !it->visible.contains({p.x, p.y}))
            continue;
        if (it->kind == screens::ElementKind::pad)
            return touch::Under::pad;
        return it->hold ? touch::Under::hold : touch::Under::plain;
    }
    return touch::Under::plain;
}

void Loop::finger(SDL_Event const& event)
{
    using Kind = touch::PointerEvent::Kind;
    Kind const kind = event.type == SDL_FINGERDOWN ? Kind::down
                      : event.type == SDL_FINGERUP ? Kind::up
                                                   : Kind::move;
    auto const& f = event.tfinger;
    // Finger coordinates are 0..1 of the window, not pixels.
    m_fingers.push(
        {kind,
         f.fingerId,
         {static_cast<double>(f.x) * m_surface.width_mm(), static_cast<double>(f.y) * m_surface.height_mm()},
         time_of(event),
         false});
}

void Loop::mouse(SDL_Event const& event)
{
    using Kind = touch::PointerEvent::Kind;
    bool const motion = event.type == SDL_MOUSEMOTION;
    if ((motion ? event.motion.which : event.button.which) == SDL_TOUCH_MOUSEID)
        return;
    if (motion && (event.motion.state & SDL_BUTTON_LMASK) == 0U)
        return;
    if (!motion && event.button.button != SDL_BUTTON_LEFT)
        return;
    int window_w = 1, window_h = 1;
    SDL_GetWindowSize(m_surface.handle(), &window_w, &window_h);
    double const x = motion ? event.motion.x : event.button.x, y = motion ? event.motion.y : event.button.y;
    Kind const kind = motion ? Kind::move : event.type == SDL_MOUSEBUTTONDOWN ? Kind::down : Kind::up;
    m_fingers.push({kind,
                    -1,
                    {x / window_w * m_surface.width_mm(), y / window_h * m_surface.height_mm()},
                    time_of(event),
                    true});
}

void Loop::window(SDL_Event const& event)
{
    switch (event.window.event) {
    case SDL_WINDOWEVENT_SIZE_CHANGED:
    case SDL_WINDOWEVENT_RESIZED:
        m_surface.update_size();
        m_fingers.forget();
        break;
    case SDL_WINDOWEVENT_HIDDEN:
    case SDL_WINDOWEVENT_MINIMIZED:
        m_hidden = true;
        break;
    case SDL_WINDOWEVENT_SHOWN:
    case SDL_WINDOWEVENT_RESTORED:
    case SDL_WINDOWEVENT_EXPOSED:
        m_hidden = false;
        break;
    case SDL_WINDOWEVENT_FOCUS_LOST:
        m_fingers.forget();
        break;
    default:
        break;
    }
    m_dirty = true;
}

void Loop::key(std::string text)
{
    screens::Intent intent;
    intent.kind = screens::Intent::Kind::key;
    intent.text = std::move(text);
    m_program.act(intent);
    m_dirty = true;
}

void Loop::key_down(SDL_Event const& event)
{
    switch (event.key.keysym.sym) {
    case SDLK_BACKSPACE:
        return key("backspace");
    case SDLK_DELETE:
        return key("clear");
    case SDLK_RETURN:
    case SDLK_KP_ENTER:
        return key("enter");
    case SDLK_ESCAPE:
        return key("cancel");
    default:
        return;
    }
}

bool Loop::handle(SDL_Event const& event)
{
    switch (event.type) {
    case SDL_QUIT:
        return false;
    case SDL_FINGERDOWN:
    case SDL_FINGERUP:
    case SDL_FINGERMOTION:
        finger(event);
        break;
    case SDL_MOUSEBUTTONDOWN:
    case SDL_MOUSEBUTTONUP:
    case SDL_MOUSEMOTION:
        mouse(event);
        break;
    case SDL_MOUSEWHEEL: {
        int x = 0, y = 0, w = 1, h = 1;
        SDL_GetMouseState(&x, &y);
        SDL_GetWindowSize(m_surface.handle(), &w, &h);
        constexpr double notch_mm = 14.0;
        m_wheel = screens::FrameInput::Pan{{x * m_surface.width_mm() / w, y * m_surface.height_mm() / h},
                                           event.wheel.x * notch_mm,
                                           event.wheel.y * notch_mm};
        m_dirty = true;
        break;
    }
    case SDL_TEXTINPUT: {
        std::string_view const text = event.text.text;
        for (std::size_t i = 0; i < text.size();) {
            std::size_t next = i + 1;
            while (next < text.size() && (static_cast<unsigned char>(text[next]) & 0xC0U) == 0x80U)
                ++next;
            key(std::string(text.substr(i, next - i)));
            i = next;
        }
        break;
    }
    case SDL_KEYDOWN:
        key_down(event);
        break;
    case SDL_WINDOWEVENT:
        window(event);
        break;
    default:
        if (event.type == wake_event.load())
            m_dirty = true;
        break;
    }
    return true;
}

void Loop::apply_settings()
{
    auto const settings = m_program.settings();
    m_sound = settings.sound;
    m_theme = m_theme_override.empty() ? settings.theme : m_theme_override;
    if (!m_surface.dpi_is_fixed())
        m_surface.set_dpi(
            choose_dpi(0.0, settings.dpi, std::getenv("ISOCHORE_DPI"), m_surface.display_dpi()));
    m_fingers.resize(m_surface.width_mm(), m_surface.height_mm());
}

// Typing is on only while something is typed into: some systems bring up their own keyboard otherwise.
void Loop::follow_text_input()
{
    bool const wanted = m_view.entry || (m_view.list && m_view.list->searchable);
    if (wanted == m_text_input)
        return;
    m_text_input = wanted;
    wanted ? SDL_StartTextInput() : SDL_StopTextInput();
}

screens::FrameInput Loop::input()
{
    auto gestures = m_fingers.next(now(), [this](touch::Point p) { return under(p); });
    auto input = translate(gestures);
    if (m_wheel && !input.pan)
        input.pan = m_wheel;
    m_wheel.reset();
    return input;
}

// The room for a picture may depend on the words of the step that it belongs to: ask twice when it does.
void Loop::refresh_view()
{
    auto const space = m_surface.picture_space(m_view);
    m_view = m_program.view(space);
    auto const really = m_surface.picture_space(m_view);
    if (std::abs(really.width_mm - space.width_mm) > 0.2 ||
        std::abs(really.height_mm - space.height_mm) > 0.2)
        m_view = m_program.view(really);
}

bool Loop::frame()
{
    bool const due = m_wake_at >= 0.0 && now() >= m_wake_at;
    if (m_hidden || (!m_dirty && !due && settled()))
        return false;
    m_dirty = false;
    apply_settings();
    auto const in = input();
    bool const coasting = in.pan.has_value();
    refresh_view();
    m_chimes += m_chime.follow(m_sound && m_view.step && m_view.step->reading_due, now()) ? 1 : 0;
    auto const intent = m_surface.draw(m_view, screens::theme_named(m_theme), in);
    if (coasting && !m_surface.canvas().pan_moved())
        m_fingers.stop_coast();
    if (intent.kind != screens::Intent::Kind::none) {
        m_program.act(intent);
        m_dirty = true;
    }
    // The frame after a tap or a lift shows the button let go.
    if (m_was_pressed != in.pressed.has_value() || in.tap || in.drawing_ended)
        m_dirty = true;
    m_was_pressed = in.pressed.has_value();
    follow_text_input();
    auto const wake = m_program.wake_in_s();
    m_wake_at = wake ? now() + std::max(0.0, *wake) : -1.0;
    return true;
}

int Loop::sleep_ms()
{
    if (m_hidden)
        return -1;
    if (m_dirty || m_fingers.pending())
        return 0;
    constexpr int animation_ms = 16;
    if (m_fingers.animating())
        return animation_ms;
    if (m_wake_at < 0.0)
        return -1;
    return std::max(1, static_cast<int>(std::ceil((m_wake_at - now()) * 1000.0)));
}

int run_window(Program& program, WindowOptions const& options)
{
    auto surface = Surface::open(options);
    if (!surface) {
        std::fprintf(stderr, "isochore: %s\n", surface.error().detail.c_str());
        return 1;
    }
    Loop loop(program, **surface);
    bool open = true;
    while (open && !program.wants_quit()) {
        loop.frame();
        SDL_Event event;
        if (SDL_WaitEventTimeout(&event, loop.sleep_ms()) == 1)
            do
                open = loop.handle(event) && open;
            while (SDL_PollEvent(&event) == 1);
    }
    return 0;
}

void wake_window()
{
    SDL_Event event{};
    event.type = register_wake_event();
    SDL_PushEvent(&event);
}

} // namespace isochore::window
