#include "screens/sheet_rules.h"
#include "screens/sizes.h"
#include "screens/theme.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::screens {

namespace {

std::string show(Rect const& r)
{
    return fmt::format("[{:.1f} {:.1f} {:.1f}x{:.1f}]", r.x, r.y, r.w, r.h);
}

std::string show(Element const& e)
{
    return fmt::format("{} '{}' {}", e.id, e.text, show(e.visible));
}

bool in_sight(Element const& e)
{
    return e.visible.w > 0.05 && e.visible.h > 0.05 && !e.covered;
}

bool whole(Element const& e)
{
    return std::abs(e.visible.w - e.rect.w) < 0.05 && std::abs(e.visible.h - e.rect.h) < 0.05;
}

bool same_place(Rect const& a, Rect const& b)
{
    return a.x == b.x && a.y == b.y && a.w == b.w && a.h == b.h;
}

double distance(Rect const& a, Rect const& b)
{
    double const dx = std::max({0.0, a.x - b.right(), b.x - a.right()}),
                 dy = std::max({0.0, a.y - b.bottom(), b.y - a.bottom()});
    return std::hypot(dx, dy);
}

bool begins(std::string const& id, char const* front)
{
    return id.rfind(front, 0) == 0;
}

/// Words inside a picture keep the picture's own rules.
bool is_text(Element const& e)
{
    return e.kind == ElementKind::text && e.id != "picture.label";
}

bool is_number_key(Element const& e)
{
    return e.kind == ElementKind::key && e.id.size() == 5 && e.id[4] >= '0' && e.id[4] <= '9' &&
           e.rect.h > 16.0;
}

bool is_caption(Element const& e)
{
    auto const has = [&](char const* part) { return e.id.find(part) != std::string::npos; };
    return has(".label") || has(".name") || has(".flag") || has(".small") || begins(e.id, "block.") ||
           e.id == "step.stamp" || e.id == "pad.label";
}

template <class Check> Faults each(DrawnSheet const& sheet, Check&& check)
{
    Faults faults;
    for (auto const& element : sheet.elements)
        if (std::string fault = check(element); !fault.empty())
            faults.push_back(std::move(fault));
    return faults;
}

std::vector<Element const*> seen(DrawnSheet const& sheet, bool targets)
{
    std::vector<Element const*> out;
    for (auto const& e : sheet.elements)
        if ((targets ? e.touchable() : is_text(e)) && in_sight(e))
            out.push_back(&e);
    return out;
}

} // namespace

Faults cut_texts(DrawnSheet const& sheet)
{
    return each(sheet, [](Element const& e) { return e.cut ? "text cut: " + show(e) : std::string(); });
}

Faults small_targets(DrawnSheet const& sheet)
{
    return each(sheet, [](Element const& e) -> std::string {
        if (!e.touchable())
            return {};
        double const least =
            e.kind == ElementKind::action || is_number_key(e) ? size::action : size::target_min;
        return e.rect.w < least - 0.02 || e.rect.h < least - 0.02 ? "target too small: " + show(e)
                                                                  : std::string();
    });
}

Faults close_targets(DrawnSheet const& sheet)
{
    Faults faults;
    auto const targets = seen(sheet, true);
    for (std::size_t i = 0; i < targets.size(); ++i)
        for (std::size_t k = i + 1; k < targets.size(); ++k) {
            auto const &a = *targets[i], &b = *targets[k];
            // Inside one scroll region the laid-out places count; across its edge, what is seen.
            bool const same = a.scrolls && b.scrolls && same_place(a.clip, b.clip);
            double const gap = same ? distance(a.rect, b.rect) : distance(a.visible, b.visible);
            bool const edge = !same && (!whole(a) || !whole(b)); // dragged half out of sight
            double const least = a.hold || b.hold ? size::gap_guarded : edge ? 0.9 : size::gap;
            if (gap < least - 0.05)
                faults.push_back(fmt::format("{:.2f} mm between {} and {}", gap, show(a), show(b)));
        }
    return faults;
}

Faults bezel_targets(DrawnSheet const& sheet)
{
    return each(sheet, [&](Element const& e) -> std::string {
        if (!e.touchable() || e.kind == ElementKind::stage || !in_sight(e))
            return {};
        Rect const inside = e.visible.cut(Rect{0, 0, sheet.width_mm, sheet.height_mm}.inset(4.5));
        return std::abs(inside.w * inside.h - e.visible.w * e.visible.h) > 0.5
                   ? "target near the bezel: " + show(e)
                   : std::string();
    });
}

Faults stacked_texts(DrawnSheet const& sheet)
{
    Faults faults;
    auto const texts = seen(sheet, false);
    for (std::size_t i = 0; i < texts.size(); ++i)
        for (std::size_t k = i + 1; k < texts.size(); ++k)
            if (texts[i]->visible.overlaps(texts[k]->visible, 0.35))
                faults.push_back("text on text: " + show(*texts[i]) + " on " + show(*texts[k]));
    return faults;
}

Faults straddling_texts(DrawnSheet const& sheet)
{
    Faults faults;
    auto const targets = seen(sheet, true);
    for (auto const* text : seen(sheet, false))
        for (auto const* target : targets) {
            if (target->kind == ElementKind::stage || text->layer != target->layer)
                continue;
            Rect const common = text->visible.cut(target->visible);
            bool const apart = common.w < 0.3 || common.h < 0.3;
            bool const inside = common.w > text->visible.w - 0.3 && common.h > text->visible.h - 0.3;
            if (!apart && !inside)
                faults.push_back("text across a target's edge: " + show(*text) + " across " + show(*target));
        }
    return faults;
}

Faults escaped_texts(DrawnSheet const& sheet)
{
    return each(sheet, [&](Element const& e) -> std::string {
        if (e.kind != ElementKind::text || !in_sight(e) || (e.id == "picture.label" && e.scrolls))
            return {}; // a picture drawn larger than its frame is dragged about in it
        bool const on_line = begins(e.id, "stage."); // the line alone scrolls sideways
        Rect const inner = Rect{0, 0, sheet.width_mm, sheet.height_mm}.inset(size::frame);
        if (e.rect.x < inner.x || e.rect.right() > inner.right() + 0.01)
            return e.scrolls && on_line ? std::string() : "text off the sheet: " + show(e);
        bool const clipped = e.visible.w < e.rect.w - 0.3;
        return clipped && !on_line && e.id != "entry.typed" ? "text clipped sideways: " + show(e)
                                                            : std::string();
    });
}

Faults small_texts(DrawnSheet const& sheet)
{
    return each(sheet, [](Element const& e) -> std::string {
        double const least = is_caption(e) ? size::caption : size::body;
        return is_text(e) && e.text_size < least - 0.001 ? "text too small: " + show(e) : std::string();
    });
}

Faults untested_inks(DrawnSheet const& sheet)
{
    auto const& pairs = text_pairs();
    return each(sheet, [&](Element const& e) -> std::string {
        bool const known = std::any_of(pairs.begin(), pairs.end(), [&](auto const& p) {
            return p.text == e.ink && p.background == e.ground;
        });
        return known || !is_text(e) ? std::string()
                                    : fmt::format("ink {} on {}: {}", static_cast<int>(e.ink),
                                                  static_cast<int>(e.ground), show(e));
    });
}

Faults sheet_faults(DrawnSheet const& sheet)
{
    Faults all;
    for (auto const rule : {cut_texts, small_targets, close_targets, bezel_targets, stacked_texts,
                            straddling_texts, escaped_texts, small_texts, untested_inks})
        for (auto& fault : rule(sheet))
            all.push_back(std::move(fault));
    return all;
}

} // namespace isochore::screens
