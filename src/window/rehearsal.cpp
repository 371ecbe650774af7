#include "window/rehearsal.h"
#include "screens/fonts.h"
#include "screens/sheet_rules.h"
#include "window/loop.h"
#include "window/png.h"
#include <SDL.h>
#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <map>
#include <set>
#include <thread>
#include <utility>

namespace isochore::window {

namespace {

using drawing::Point;
using screens::Element;

constexpr double frame_s = 1.0 / 60.0, busy_limit_s = 60.0;
constexpr SDL_FingerID finger_id = 7;

/// Carries out the commands one by one. Gestures run on a clock of their own, so that a hold takes no real
/// time; work of the program takes real time.
class Stage {
public:
    Stage(Program& program, Surface& surface, std::filesystem::path output)
        : m_program(program), m_surface(surface), m_loop(program, surface), m_output(std::move(output))
    {
        m_loop.override_clock([this] { return m_now; });
        m_loop.silence();
    }

    Result<void> run(RehearsalCommand const& command);
    Result<void> settle(std::string const& where);
    [[nodiscard]] RehearsalReport const& report() const { return m_report; }
    /// What the sheets did against the rules for gloves and eyes on the way.
    [[nodiscard]] Result<void> judged() const;
    /// Writes what the sheets said, where the script asked for it.
    [[nodiscard]] Result<void> write_texts() const;

private:
    using Found = Result<Element>;
    Found find(RehearsalCommand const& command, std::string const& id);
    Found reach(RehearsalCommand const& command, std::string const& id);
    std::string near_names(std::string const& id) const;
    [[nodiscard]] std::string words_of(std::string const& id) const;

    void step();
    void judge(std::string const& where);
    void pump();
    void send_finger(unsigned type, Point at);
    void touch_at(unsigned finger_type, Point at);
    void tap_at(Point at);
    void drag(Point from, double dx, double dy, bool stop_first);

    Result<void> expect(RehearsalCommand const& command);
    Result<void> tap(RehearsalCommand const& command);
    Result<void> hold(RehearsalCommand const& command);
    Result<void> draw(RehearsalCommand const& command);
    Result<void> drag_command(RehearsalCommand const& command);
    Result<void> type(RehearsalCommand const& command);
    Result<void> scan(RehearsalCommand const& command);
    Result<void> press(RehearsalCommand const& command);
    Result<void> shot(RehearsalCommand const& command);
    Result<void> wait(RehearsalCommand const& command);
    Result<void> await(RehearsalCommand const& command);

    Program& m_program;
    Surface& m_surface;
    Loop m_loop;
    std::filesystem::path m_output;
    RehearsalReport m_report;
    std::vector<std::string> m_faults; ///< each once, where it was first seen
    std::set<std::string> m_judged;
    std::filesystem::path m_texts_file; ///< none when empty
    std::map<std::string, std::string> m_texts; ///< what was said, and by which element first
    double m_now = 1.0;
    int m_chimes = 0; ///< counted already
    bool m_mouse = false;
};

std::string where_of(RehearsalCommand const& command)
{
    return "rehearsal line " + std::to_string(command.line);
}

Point middle(screens::Rect const& r)
{
    return {r.x + r.w / 2, r.y + r.h / 2};
}

// How many characters two names share at the front, for "did you mean".
std::size_t shared_front(std::string const& a, std::string const& b)
{
    std::size_t n = 0;
    while (n < a.size() && n < b.size() && a[n] == b[n])
        ++n;
    return n;
}

void Stage::pump()
{
    SDL_Event event;
    while (SDL_PollEvent(&event) == 1)
        m_loop.handle(event);
}

void Stage::step()
{
    m_now += frame_s;
    pump();
    m_loop.redraw();
    if (m_loop.frame())
        ++m_report.frames;
}

// Every sheet a rehearsal comes by is held against the rules, not only the few made for tests.
void Stage::judge(std::string const& where)
{
    for (auto const& fault :
         screens::sheet_faults({m_surface.width_mm(), m_surface.height_mm(), m_surface.canvas().elements()}))
        if (m_judged.insert(fault).second)
            m_faults.push_back(where + ": " + fault);
    if (!m_texts_file.empty())
        for (auto const& element : m_surface.canvas().elements())
            if (!element.text.empty())
                m_texts.emplace(element.text, where + ", " + element.id);
}

Result<void> Stage::write_texts() const
{
    if (m_texts_file.empty())
        return {};
    auto const path = m_output / m_texts_file;
    std::ofstream file(path);
    for (auto const& [text, where] : m_texts) {
        std::string line = text;
        std::replace(line.begin(), line.end(), '\n', ' ');
        file << where << '\t' << line << '\n';
    }
    return file.flush() ? Result<void>{} : fail(Error::Code::io, path.string(), "The texts were not written.");
}

Result<void> Stage::judged() const
{
    if (m_faults.empty())
        return {};
    constexpr std::size_t most = 40;
    std::string text = std::to_string(m_faults.size()) + " faults of drawn sheets:";
    for (std::size_t i = 0; i < std::min(most, m_faults.size()); ++i)
        text += "\n  " + m_faults[i];
    return fail(Error::Code::invalid_input, "rehearsal", text);
}

Result<void> Stage::settle(std::string const& where)
{
    auto const start = std::chrono::steady_clock::now();
    do {
        step();
        if (m_loop.view().busy || m_loop.view().progress) {
            std::chrono::duration<double> const waited = std::chrono::steady_clock::now() - start;
            if (waited.count() > busy_limit_s)
                return fail(Error::Code::no_solution, where, "The program was still busy after a minute.");
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
        }
    } while (!m_loop.settled() || m_loop.view().busy);
    step(); // what the last act changed
    judge(where);
    return {};
}

void Stage::send_finger(unsigned type, Point at)
{
    SDL_Event event{};
    event.type = type;
    event.tfinger.touchId = 1;
    event.tfinger.fingerId = finger_id;
    event.tfinger.x = static_cast<float>(at.x / m_surface.width_mm());
    event.tfinger.y = static_cast<float>(at.y / m_surface.height_mm());
    event.tfinger.pressure = 1.0F;
    SDL_PushEvent(&event);
}

void Stage::touch_at(unsigned type, Point at)
{
    if (!m_mouse)
        return send_finger(type, at);
    int w = 1, h = 1;
    SDL_GetWindowSize(m_surface.handle(), &w, &h);
    int const x = static_cast<int>(at.x / m_surface.width_mm() * w),
              y = static_cast<int>(at.y / m_surface.height_mm() * h);
    SDL_Event event{};
    if (type == SDL_FINGERMOTION) {
        event.type = SDL_MOUSEMOTION;
        event.motion.state = SDL_BUTTON_LMASK;
        event.motion.x = x;
        event.motion.y = y;
    } else {
        event.type = type == SDL_FINGERDOWN ? SDL_MOUSEBUTTONDOWN : SDL_MOUSEBUTTONUP;
        event.button.button = SDL_BUTTON_LEFT;
        event.button.x = x;
        event.button.y = y;
    }
    SDL_PushEvent(&event);
}

// Down and up arrive together, as they do from a quick finger on a slow machine.
void Stage::tap_at(Point at)
{
    touch_at(SDL_FINGERDOWN, at);
    touch_at(SDL_FINGERUP, at);
}

void Stage::drag(Point from, double dx, double dy, bool stop_first)
{
    constexpr int moves = 12;
    touch_at(SDL_FINGERDOWN, from);
    step();
    for (int i = 1; i <= moves; ++i) {
        double const share = static_cast<double>(i) / moves;
        touch_at(SDL_FINGERMOTION, {from.x + dx * share, from.y + dy * share});
        step();
    }
    if (stop_first)
        for (int i = 0; i < 15; ++i) // rests long enough that nothing coasts
            step();
    touch_at(SDL_FINGERUP, {from.x + dx, from.y + dy});
}

std::string Stage::near_names(std::string const& id) const
{
    std::vector<std::pair<std::size_t, std::string>> names;
    for (auto const& element : m_surface.canvas().elements()) {
        bool const known =
            std::any_of(names.begin(), names.end(), [&](auto const& n) { return n.second == element.id; });
        if (!element.id.empty() && !known)
            names.emplace_back(shared_front(id, element.id), element.id);
    }
    std::stable_sort(names.begin(), names.end(),
                     [](auto const& a, auto const& b) { return a.first > b.first; });
    std::string text;
    for (std::size_t i = 0; i < std::min<std::size_t>(names.size(), 8); ++i)
        text += (i == 0 ? "" : ", ") + names[i].second;
    return text;
}

Stage::Found Stage::find(RehearsalCommand const& command, std::string const& id)
{
    for (auto const& element : m_surface.canvas().elements())
        if (element.id == id)
            return element;
    return fail(Error::Code::not_found, where_of(command),
                "There is no element '" + id + "' on the sheet; near it: " + near_names(id) + ".");
}

// Drags as a person would until the middle of the element is in sight.
Stage::Found Stage::reach(RehearsalCommand const& command, std::string const& id)
{
    for (int tries = 0; tries < 60; ++tries) {
        auto found = find(command, id);
        if (!found)
            return found;
        Point const m = middle(found->rect);
        if (found->visible.contains(m))
            return found;
        if (!found->scrolls || found->clip.w <= 0.0)
            break;
        screens::Rect const r = found->clip;
        double const dy = m.y < r.y ? 0.7 * r.h : m.y > r.bottom() ? -0.7 * r.h : 0.0;
        double const dx = m.x < r.x ? 0.7 * r.w : m.x > r.right() ? -0.7 * r.w : 0.0;
        drag({r.x + r.w / 2 - dx / 2, r.y + r.h / 2 - dy / 2}, dx, dy, true);
        if (auto settled = settle(where_of(command)); !settled)
            return tl::unexpected(settled.error());
    }
    return fail(Error::Code::no_solution, where_of(command),
                "The element '" + id + "' cannot be dragged into view.");
}

std::string Stage::words_of(std::string const& id) const
{
    std::string words;
    for (auto const& element : m_surface.canvas().elements())
        if (element.id == id)
            words += (words.empty() ? "" : " ") + element.text;
    std::replace(words.begin(), words.end(), '\n', ' ');
    return words;
}

Result<void> Stage::expect(RehearsalCommand const& command)
{
    auto const found = find(command, command.id);
    if (command.verb == "expect-no") {
        if (found)
            return fail(Error::Code::invalid_input, where_of(command),
                        "There is an element '" + command.id + "': '" + words_of(command.id) + "'.");
        return {};
    }
    if (!found)
        return tl::unexpected(found.error());
    if (command.verb == "expect-enabled" || command.verb == "expect-disabled") {
        bool const able = found->enabled && !found->covered;
        if (able != (command.verb == "expect-enabled"))
            return fail(Error::Code::invalid_input, where_of(command),
                        "The element '" + command.id + "' is " + (able ? "enabled." : "not enabled."));
        return {};
    }
    std::string const words = words_of(command.id);
    if (words.find(command.rest) == std::string::npos)
        return fail(Error::Code::invalid_input, where_of(command),
                    "'" + command.id + "' says '" + words + "', not '" + command.rest + "'.");
    return {};
}

Result<void> Stage::tap(RehearsalCommand const& command)
{
    auto const found = reach(command, command.id);
    if (!found)
        return tl::unexpected(found.error());
    if (!found->enabled || found->covered)
        return fail(Error::Code::denied, where_of(command),
                    "The element '" + command.id + "' cannot be touched now: it is " +
                        (found->covered ? "covered." : "not enabled."));
    tap_at(middle(found->visible));
    return {};
}

Result<void> Stage::hold(RehearsalCommand const& command)
{
    auto const found = reach(command, command.id);
    if (!found)
        return tl::unexpected(found.error());
    if (!found->enabled || found->covered || !found->hold)
        return fail(Error::Code::denied, where_of(command),
                    "The element '" + command.id + "' is not to be held, or not now.");
    Point const at = middle(found->visible);
    touch_at(SDL_FINGERDOWN, at);
    for (double t = 0.0; t < screens::hold_seconds + 0.2; t += frame_s)
        step();
    touch_at(SDL_FINGERUP, at);
    return {};
}

Result<void> Stage::draw(RehearsalCommand const& command)
{
    auto const found = reach(command, command.id);
    if (!found)
        return tl::unexpected(found.error());
    screens::Rect const r = found->visible;
    drag({r.x + 0.15 * r.w, r.y + 0.6 * r.h}, 0.6 * r.w, -0.25 * r.h, false);
    return {};
}

Result<void> Stage::drag_command(RehearsalCommand const& command)
{
    auto const found = find(command, command.id);
    if (!found)
        return tl::unexpected(found.error());
    char* end = nullptr;
    double const dx = std::strtod(command.rest.c_str(), &end), dy = std::strtod(end, nullptr);
    drag(middle(found->visible.w > 0.0 ? found->visible : found->rect), dx, dy, command.verb == "drag");
    return {};
}

// The key that gives a character, going through Shift or the page of signs where needed.
Result<void> Stage::type(RehearsalCommand const& command)
{
    auto const key_for = [](std::string const& sign) {
        return sign == "."   ? std::string("key.point")
               : sign == " " ? std::string("key.space")
                             : "key." + sign;
    };
    auto const there = [&](std::string const& id) {
        auto const& all = m_surface.canvas().elements();
        return std::any_of(all.begin(), all.end(), [&](Element const& e) { return e.id == id; });
    };
    for (std::size_t i = 0; i < command.rest.size();) {
        std::size_t next = i + 1;
        while (next < command.rest.size() &&
               (static_cast<unsigned char>(command.rest[next]) & 0xC0U) == 0x80U)
            ++next;
        std::string const sign = command.rest.substr(i, next - i);
        i = next;
        std::string id = sign == "-" && !there("key.-") ? "key.sign" : key_for(sign);
        if (sign == "." && there("key.."))
            id = "key..";
        for (auto const& way : {std::vector<std::string>{}, {"key.shift"}, {"key.page"}, {"key.shift"}}) {
            if (there(id))
                break;
            for (auto const& switch_key : way) {
                RehearsalCommand change = command;
                change.id = switch_key;
                if (auto tapped = tap(change); !tapped)
                    return tapped;
                if (auto settled = settle(where_of(command)); !settled)
                    return settled;
            }
        }
        RehearsalCommand one = command;
        one.id = id;
        if (auto tapped = tap(one); !tapped)
            return tapped;
        if (auto settled = settle(where_of(command)); !settled)
            return settled;
    }
    return {};
}

Result<void> Stage::scan(RehearsalCommand const& command)
{
    for (std::size_t i = 0; i < command.rest.size();) {
        SDL_Event event{};
        event.type = SDL_TEXTINPUT;
        std::size_t const room = sizeof event.text.text - 1;
        std::size_t n = std::min(room, command.rest.size() - i);
        while (n > 1 && i + n < command.rest.size() &&
               (static_cast<unsigned char>(command.rest[i + n]) & 0xC0U) == 0x80U)
            --n; // never through the middle of a character
        std::memcpy(event.text.text, command.rest.data() + i, n);
        SDL_PushEvent(&event);
        i += n;
    }
    RehearsalCommand enter = command;
    enter.id = "enter";
    return press(enter);
}

Result<void> Stage::press(RehearsalCommand const& command)
{
    SDL_Keycode const key = command.id == "enter"       ? SDLK_RETURN
                            : command.id == "cancel"    ? SDLK_ESCAPE
                            : command.id == "backspace" ? SDLK_BACKSPACE
                            : command.id == "clear"     ? SDLK_DELETE
                                                        : SDLK_UNKNOWN;
    if (key == SDLK_UNKNOWN)
        return fail(Error::Code::unknown, where_of(command),
                    "There is no key '" + command.id + "'; there are enter, cancel, backspace and clear.");
    SDL_Event event{};
    event.type = SDL_KEYDOWN;
    event.key.keysym.sym = key;
    SDL_PushEvent(&event);
    return {};
}

Result<void> Stage::shot(RehearsalCommand const& command)
{
    auto const path = m_output / command.id;
    std::error_code code;
    std::filesystem::create_directories(path.parent_path(), code);
    if (auto written =
            write_png(path.string(), m_surface.width_px(), m_surface.height_px(), m_surface.pixels());
        !written)
        return written;
    m_report.shots.push_back(path.string());
    return {};
}

Result<void> Stage::wait(RehearsalCommand const& command)
{
    double const seconds = std::strtod(command.id.c_str(), nullptr);
    auto const start = std::chrono::steady_clock::now();
    std::chrono::duration<double> waited{0};
    while (waited.count() < seconds) {
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
        waited = std::chrono::steady_clock::now() - start;
        step();
    }
    return {};
}

Result<void> Stage::await(RehearsalCommand const& command)
{
    RehearsalCommand once = command;
    once.verb = command.verb == "await" ? "expect" : "expect-no";
    auto const start = std::chrono::steady_clock::now();
    for (;;) {
        auto met = expect(once);
        std::chrono::duration<double> const waited = std::chrono::steady_clock::now() - start;
        if (met || waited.count() > busy_limit_s)
            return met;
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
        step();
    }
}

Result<void> Stage::run(RehearsalCommand const& command)
{
    auto const& verb = command.verb;
    Result<void> done;
    if (verb.rfind("expect", 0) == 0)
        done = expect(command);
    else if (verb == "tap")
        done = tap(command);
    else if (verb == "hold")
        done = hold(command);
    else if (verb == "draw")
        done = draw(command);
    else if (verb == "drag" || verb == "fling")
        done = drag_command(command);
    else if (verb == "type")
        done = type(command);
    else if (verb == "scan")
        done = scan(command);
    else if (verb == "press")
        done = press(command);
    else if (verb == "shot")
        done = shot(command);
    else if (verb == "wait")
        done = wait(command);
    else if (verb == "later") {
        m_program.pass_time(std::strtod(command.id.c_str(), nullptr));
        m_loop.redraw();
    } else if (verb == "clock") {
        m_program.set_clock(std::strtod(command.id.c_str(), nullptr));
        m_loop.redraw();
    } else if (verb.starts_with("await"))
        done = await(command);
    else if (verb == "theme")
        m_loop.override_theme(command.id);
    else if (verb == "size")
        m_surface.set_size(std::atoi(command.id.c_str()), std::atoi(command.rest.c_str()));
    else if (verb == "dpi")
        m_surface.fix_dpi(std::strtod(command.id.c_str(), nullptr));
    else if (verb == "finger" || verb == "mouse")
        m_mouse = verb == "mouse";
    else if (verb == "texts")
        m_texts_file = command.id;
    else if (verb == "log") {
        auto const found = find(command, command.id);
        if (!found)
            return tl::unexpected(found.error());
        m_report.logged.push_back(command.id + ": " + words_of(command.id));
    } else if (verb == "chimes") {
        int const since = m_loop.chimes() - std::exchange(m_chimes, m_loop.chimes());
        if (std::to_string(since) != command.id)
            return fail(Error::Code::invalid_input, where_of(command),
                        "A due reading was called out " + std::to_string(since) + " times, not " +
                            command.id + ".");
    }
    if (!done)
        return done;
    ++m_report.commands;
    return settle(where_of(command));
}

} // namespace

Result<RehearsalReport> run_rehearsal(Program& program, std::string const& script, WindowOptions options,
                                      std::filesystem::path const& output)
{
    auto const commands = parse_rehearsal(script);
    if (!commands)
        return tl::unexpected(commands.error());
    if (options.dpi <= 0.0)
        options.dpi = 149.5; // a 10.1 inch tablet of 1280 by 800, the same on every machine
    auto surface = Surface::open(options);
    if (!surface)
        return tl::unexpected(surface.error());
    Stage stage(program, **surface, output);
    if (auto settled = stage.settle("rehearsal"); !settled)
        return tl::unexpected(settled.error());
    for (auto const& command : *commands)
        if (auto done = stage.run(command); !done)
            return tl::unexpected(done.error());
    if (auto written = stage.write_texts(); !written)
        return tl::unexpected(written.error());
    if (auto judged = stage.judged(); !judged)
        return tl::unexpected(judged.error());
    return stage.report();
}

} // namespace isochore::window
