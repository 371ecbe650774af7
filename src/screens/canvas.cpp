#include "screens/canvas.h"
#include "screens/polygon.h"
#include <algorithm>
#include <cmath>
#include <imgui/imgui.h>

namespace isochore::screens {

Rect Rect::cut(Rect const& by) const
{
    double const x0 = std::max(x, by.x), y0 = std::max(y, by.y);
    double const x1 = std::min(right(), by.right()), y1 = std::min(bottom(), by.bottom());
    return {x0, y0, std::max(0.0, x1 - x0), std::max(0.0, y1 - y0)};
}

bool Rect::overlaps(Rect const& other, double tolerance) const
{
    Rect const common = cut(other);
    return common.w > tolerance && common.h > tolerance;
}

namespace {

constexpr double fade_h = 3.0; ///< less than a line, so that no whole line is dimmed

ImVec2 vec(double x, double y)
{
    return {static_cast<float>(x), static_cast<float>(y)};
}

Rgb mixed(Rgb a, Rgb b, double share_of_b)
{
    auto const channel = [&](auto x, auto y) {
        return static_cast<decltype(x)>(std::lround(x + (y - x) * share_of_b));
    };
    return {channel(a.r, b.r), channel(a.g, b.g), channel(a.b, b.b)};
}

} // namespace

void Canvas::begin(ImDrawList& list, Theme const& theme, double width_mm, double height_mm, double px_per_mm,
                   FrameInput input)
{
    m_list = &list;
    m_theme = theme;
    m_width = width_mm;
    m_height = height_mm;
    m_scale = px_per_mm;
    m_input = std::move(input);
    m_elements.clear();
    m_clips.assign(1, Rect{0, 0, width_mm, height_mm});
    m_regions.clear();
    m_ground = Ink::paper;
    m_layer = 0;
    ++m_frame;
    m_veiled = m_deaf = m_cut = m_wants_frame = m_pan_moved = false;
}

void Canvas::end()
{
    std::erase_if(m_scrolls, [this](auto const& entry) { return entry.second.seen != m_frame; });
    std::erase_if(m_kept, [this](auto const& entry) { return entry.second.seen != m_frame; });
    std::erase_if(m_measured, [this](auto const& entry) { return entry.second.seen != m_frame; });
    int top = 0;
    for (auto const& element : m_elements)
        top = std::max(top, element.layer);
    for (auto& element : m_elements)
        element.covered = element.layer < top;
    m_list = nullptr;
}

unsigned Canvas::colour(Ink ink, double alpha) const
{
    Rgb c = m_theme.of(ink);
    if (m_veiled)
        c = mixed(c, m_theme.of(Ink::paper), 0.78);
    return IM_COL32(c.r, c.g, c.b, static_cast<int>(std::lround(255.0 * alpha)));
}

double Canvas::snap(double mm) const
{
    return std::round(mm * m_scale);
}

void Canvas::fill(Rect const& r, Ink ink)
{
    if (m_dry)
        return;
    m_list->AddRectFilled(vec(snap(r.x), snap(r.y)), vec(snap(r.right()), snap(r.bottom())), colour(ink));
}

void Canvas::frame(Rect const& r, Ink ink, double width)
{
    if (m_dry)
        return;
    double const t = std::max(1.0, std::round(width * m_scale));
    double const x0 = snap(r.x), y0 = snap(r.y), x1 = snap(r.right()), y1 = snap(r.bottom());
    unsigned const c = colour(ink);
    m_list->AddRectFilled(vec(x0, y0), vec(x1, y0 + t), c);
    m_list->AddRectFilled(vec(x0, y1 - t), vec(x1, y1), c);
    m_list->AddRectFilled(vec(x0, y0 + t), vec(x0 + t, y1 - t), c);
    m_list->AddRectFilled(vec(x1 - t, y0 + t), vec(x1, y1 - t), c);
}

void Canvas::hline(double x0, double x1, double y, Ink ink, double width)
{
    if (m_dry)
        return;
    double const t = std::max(1.0, std::round(width * m_scale)), top = std::round(y * m_scale - t / 2);
    m_list->AddRectFilled(vec(snap(x0), top), vec(snap(x1), top + t), colour(ink));
}

void Canvas::vline(double x, double y0, double y1, Ink ink, double width)
{
    if (m_dry)
        return;
    double const t = std::max(1.0, std::round(width * m_scale)), left = std::round(x * m_scale - t / 2);
    m_list->AddRectFilled(vec(left, snap(y0)), vec(left + t, snap(y1)), colour(ink));
}

void Canvas::line(Point a, Point b, Ink ink, double width)
{
    if (m_dry)
        return;
    m_list->AddLine(vec(a.x * m_scale, a.y * m_scale), vec(b.x * m_scale, b.y * m_scale), colour(ink),
                    static_cast<float>(std::max(1.0, width * m_scale)));
}

void Canvas::polyline(std::vector<Point> const& points, Ink ink, double width, bool closed)
{
    if (m_dry)
        return;
    for (auto const& p : points)
        m_list->PathLineTo(vec(p.x * m_scale, p.y * m_scale));
    m_list->PathStroke(colour(ink), closed ? ImDrawFlags_Closed : 0,
                       static_cast<float>(std::max(1.0, width * m_scale)));
}

void Canvas::area(std::vector<Point> const& points, Ink ink)
{
    if (m_dry)
        return;
    for (auto const& p : points)
        m_list->PathLineTo(vec(p.x * m_scale, p.y * m_scale));
    m_list->PathFillConvex(colour(ink));
}

void Canvas::shape(std::vector<Point> const& points, Ink ink)
{
    if (m_dry)
        return;
    // Without smoothing: smoothed triangles would show their seams. Outlines are stroked over the edge.
    auto const flags = m_list->Flags;
    m_list->Flags &= ~ImDrawListFlags_AntiAliasedFill;
    for (auto const& t : triangles(points))
        m_list->AddTriangleFilled(vec(t[0].x * m_scale, t[0].y * m_scale),
                                  vec(t[1].x * m_scale, t[1].y * m_scale),
                                  vec(t[2].x * m_scale, t[2].y * m_scale), colour(ink));
    m_list->Flags = flags;
}

void Canvas::circle(Point centre, double radius, Ink ink, double width)
{
    if (m_dry)
        return;
    m_list->AddCircle(vec(centre.x * m_scale, centre.y * m_scale), static_cast<float>(radius * m_scale),
                      colour(ink), 0, static_cast<float>(std::max(1.0, width * m_scale)));
}

void Canvas::dot(Point centre, double radius, Ink ink)
{
    if (m_dry)
        return;
    m_list->AddCircleFilled(vec(centre.x * m_scale, centre.y * m_scale), static_cast<float>(radius * m_scale),
                            colour(ink), 0);
}

void Canvas::begin_clip(Rect const& r)
{
    m_clips.push_back(m_clips.back().cut(r));
    if (m_dry)
        return;
    Rect const& c = m_clips.back();
    m_list->PushClipRect(vec(snap(c.x), snap(c.y)), vec(snap(c.right()), snap(c.bottom())), false);
}

void Canvas::end_clip()
{
    m_clips.pop_back();
    if (!m_dry)
        m_list->PopClipRect();
}

double Canvas::begin_scroll(std::string const& key, Rect const& r)
{
    Scroll& scroll = m_scrolls[key];
    scroll.seen = m_frame;
    double const limit = std::max(0.0, scroll.content - r.h);
    if (m_input.pan && !m_deaf && r.contains(m_input.pan->origin)) {
        double const before = scroll.offset;
        scroll.offset -= m_input.pan->dy;
        scroll.offset = std::clamp(scroll.offset, 0.0, limit);
        m_pan_moved = m_pan_moved || scroll.offset != before;
    }
    scroll.offset = std::clamp(scroll.offset, 0.0, limit);
    m_regions.push_back({key, r});
    begin_clip(r);
    return scroll.offset;
}

void Canvas::end_scroll(double content_height)
{
    end_clip();
    Region const region = m_regions.back();
    m_regions.pop_back();
    Scroll& scroll = m_scrolls[region.key];
    m_wants_frame = m_wants_frame || std::abs(scroll.content - content_height) > 0.1;
    scroll.content = content_height;
    scroll_mark(region.rect, scroll);
}

void Canvas::fade(Rect const& r, bool from_top)
{
    if (m_dry)
        return;
    unsigned const solid = colour(m_ground), clear = solid & ~IM_COL32_A_MASK;
    unsigned const top = from_top ? solid : clear, bottom = from_top ? clear : solid;
    m_list->AddRectFilledMultiColor(vec(snap(r.x), snap(r.y)), vec(snap(r.right()), snap(r.bottom())), top, top,
                                    bottom, bottom);
}

// A thin bar says how much there is, and a small arrow on the edge that there is more below: hidden content
// must never be a surprise.
void Canvas::scroll_mark(Rect const& r, Scroll const& scroll)
{
    if (scroll.content <= r.h + 0.1)
        return;
    // What goes on beyond the edge fades there, so that half a line does not look like a fault.
    double const bar = 1.0;
    if (scroll.offset > 0.5)
        fade({r.x, r.y, r.w - bar, fade_h}, true);
    if (scroll.offset + r.h < scroll.content - 0.5)
        fade({r.x, r.bottom() - fade_h, r.w - bar, fade_h}, false);
    double const share = r.h / scroll.content, top = r.y + r.h * scroll.offset / scroll.content;
    fill({r.right() - 0.6, r.y, 0.5, r.h}, Ink::faint);
    fill({r.right() - 0.6, top, 0.5, r.h * share}, Ink::line);
    if (scroll.offset + r.h < scroll.content - 0.5) {
        double const cx = r.right() - 0.35, cy = r.bottom() - 2.6;
        dot({cx, cy}, 2.3, Ink::line);
        area({{cx - 1.2, cy - 0.5}, {cx + 1.2, cy - 0.5}, {cx, cy + 1.1}}, Ink::inverse);
    }
}

double Canvas::begin_scroll_sideways(std::string const& key, Rect const& r, double content_width, double home)
{
    bool const fresh = m_scrolls.find(key) == m_scrolls.end();
    Scroll& scroll = m_scrolls[key];
    scroll.seen = m_frame;
    scroll.content = content_width;
    if (fresh)
        scroll.offset = home;
    if (m_input.pan && !m_deaf && r.contains(m_input.pan->origin)) {
        double const before = scroll.offset;
        scroll.offset = std::clamp(scroll.offset - m_input.pan->dx, 0.0, std::max(0.0, content_width - r.w));
        m_pan_moved = m_pan_moved || scroll.offset != before;
    }
    scroll.offset = std::clamp(scroll.offset, 0.0, std::max(0.0, content_width - r.w));
    m_regions.push_back({key, r});
    begin_clip(r);
    return scroll.offset;
}

void Canvas::end_scroll_sideways()
{
    end_clip();
    m_regions.pop_back();
}

double& Canvas::keep(std::string const& key)
{
    Kept& kept = m_kept[key];
    kept.seen = m_frame;
    return kept.value;
}

void Canvas::begin_overlay()
{
    ++m_layer;
    m_deaf = false;
}

void Canvas::end_overlay()
{
    m_deaf = true;
}

bool Canvas::hit(Rect const& visible, Point p) const
{
    // Fingers land beside what they aim at: half the gap around a target belongs to it.
    double const reach = size::gap / 2;
    Rect const wide{visible.x - reach, visible.y - reach, visible.w + 2 * reach, visible.h + 2 * reach};
    return visible.w > 0.0 && visible.h > 0.0 && wide.contains(p) &&
           (m_regions.empty() || m_clips.back().contains(p));
}

bool Canvas::pressed_in(Rect const& r) const
{
    return !m_deaf && m_input.pressed && hit(r.cut(m_clips.back()), *m_input.pressed);
}

bool Canvas::target(std::string id, ElementKind kind, Rect const& r, std::string text, bool enabled,
                    bool hold)
{
    if (m_dry)
        return false;
    Element element;
    element.id = std::move(id);
    element.kind = kind;
    element.rect = r;
    element.visible = r.cut(m_clips.back());
    element.clip = m_clips.back();
    element.text = std::move(text);
    element.enabled = enabled;
    element.hold = hold;
    element.scrolls = !m_regions.empty();
    element.layer = m_layer;
    element.ground = m_ground;
    Rect const visible = element.visible;
    m_elements.push_back(std::move(element));
    if (!enabled || m_deaf)
        return false;
    auto const& act = hold ? m_input.hold : m_input.tap;
    return act && hit(visible, *act);
}

void Canvas::note(std::string id, ElementKind kind, Rect const& r, std::string text)
{
    if (m_dry)
        return;
    Element element;
    element.id = std::move(id);
    element.kind = kind;
    element.rect = r;
    element.visible = r.cut(m_clips.back());
    element.clip = m_clips.back();
    element.text = std::move(text);
    element.scrolls = !m_regions.empty();
    element.layer = m_layer;
    m_elements.push_back(std::move(element));
}

bool Canvas::button(std::string const& id, ElementKind kind, Rect const& r, std::string const& label,
                    ButtonLook const& look)
{
    bool const act =
        target(id, kind, r, look.small.empty() ? label : label + "\n" + look.small, look.enabled, look.hold);
    bool const pressed = look.enabled && pressed_in(r);
    bool const dark = (look.filled || look.chosen) != (pressed && !look.hold);
    Ink const outer = m_ground;
    Ink const back = !look.enabled ? outer : dark ? Ink::line : Ink::paper;
    fill(r, back);
    frame(r, look.enabled ? Ink::line : Ink::faint, look.border);
    if (look.hold && pressed) {
        double const share = std::clamp(m_input.held_s / hold_seconds, 0.0, 1.0);
        Rect const bar{r.x + 1.2, r.bottom() - 2.6, (r.w - 2.4) * share, 1.4};
        fill(bar, dark ? Ink::inverse : Ink::line);
    } else if (look.hold && look.enabled) {
        fill({r.x + 1.2, r.bottom() - 1.7, r.w - 2.4, 0.35}, dark ? Ink::inverse : Ink::line);
    }
    ground(back == Ink::line ? Ink::line : back);
    Ink const ink = back == Ink::line ? Ink::inverse : look.enabled ? Ink::text : Ink::muted;
    Rect const inner{r.x + 1.5, r.y + 1.0, r.w - 3.0, r.h - (look.hold ? 3.4 : 2.0)};
    TextStyle const style{look.quiet && !dark ? Face::regular : Face::bold, look.label_size, ink,
                          Align::centre};
    if (look.small.empty()) {
        fitted(inner, label, style, {look.label_size, size::body, size::caption}, id + ".label");
    } else {
        TextStyle const small{Face::regular, size::body, ink, Align::centre};
        double const small_h = std::min(inner.h / 2, paragraph_height(look.small, small, inner.w));
        double const label_h = std::min(inner.h - small_h, paragraph_height(label, style, inner.w));
        double const top = inner.y + (inner.h - label_h - small_h) / 2;
        fitted({inner.x, top, inner.w, label_h}, label, style, {look.label_size, size::body, size::caption},
               id + ".label");
        fitted({inner.x, top + label_h, inner.w, small_h}, look.small, small, {size::body, size::caption},
               id + ".small");
    }
    ground(outer);
    return act;
}

} // namespace isochore::screens
