#include "report/type.h"
#include "report/type_shared.h"
#include <algorithm>

namespace isochore::report {

namespace {

PangoFontDescription* description(drawing::Face face)
{
    char const* const family = face == drawing::Face::mono ? "B612 Mono" : "B612";
    PangoFontDescription* const font = pango_font_description_new();
    pango_font_description_set_family_static(font, family);
    pango_font_description_set_weight(font,
                                      face == drawing::Face::bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_absolute_size(font, Type::Shared::shaping_em * PANGO_SCALE);
    return font;
}

} // namespace

Type::Shared::Shared()
{
    context = pango_font_map_create_context(pango_cairo_font_map_get_default());
    cairo_font_options_t* const options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(context, options);
    cairo_font_options_destroy(options);
    pango_cairo_context_set_resolution(context, 72.0);
    pango_context_set_round_glyph_positions(context, FALSE);
    // A fixed language and direction keep the shaping, and so the file, independent of the user's locale.
    pango_context_set_language(context, pango_language_from_string("en-gb"));
    pango_context_set_base_dir(context, PANGO_DIRECTION_LTR);
    for (std::size_t i = 0; i < layouts.size(); ++i) {
        layouts[i] = pango_layout_new(context);
        PangoFontDescription* const font = description(static_cast<drawing::Face>(i));
        pango_layout_set_font_description(layouts[i], font);
        pango_font_description_free(font);
        pango_layout_set_single_paragraph_mode(layouts[i], TRUE);
    }
}

Type::Shared::~Shared()
{
    for (PangoLayout* const layout : layouts)
        g_object_unref(layout);
    g_object_unref(context);
}

PangoLayout* Type::Shared::line(std::string_view text, drawing::Face face)
{
    PangoLayout* const layout = layouts[static_cast<std::size_t>(face)];
    if (g_utf8_validate(text.data(), static_cast<gssize>(text.size()), nullptr)) {
        pango_layout_set_text(layout, text.data(), static_cast<int>(text.size()));
    } else {
        std::string const mended = printable(text);
        pango_layout_set_text(layout, mended.data(), static_cast<int>(mended.size()));
    }
    return layout;
}

std::string printable(std::string_view text)
{
    std::string plain(text);
    plain.erase(std::remove(plain.begin(), plain.end(), '\0'), plain.end());
    gchar* const valid = g_utf8_make_valid(plain.data(), static_cast<gssize>(plain.size()));
    std::string mended = valid;
    g_free(valid);
    return mended;
}

Type::Type() : m_shared(std::make_unique<Shared>()) {}
Type::~Type() = default;
Type::Type(Type&&) noexcept = default;
Type& Type::operator=(Type&&) noexcept = default;

double Type::width(std::string_view text, drawing::Face face, double size_mm)
{
    if (text.empty())
        return 0.0;
    auto& known = m_shared->widths[static_cast<std::size_t>(face)];
    auto const [entry, is_new] = known.try_emplace(std::string(text), 0.0);
    if (is_new) {
        PangoRectangle logical;
        pango_layout_get_extents(m_shared->line(text, face), nullptr, &logical);
        entry->second = static_cast<double>(logical.width) / PANGO_SCALE / Shared::shaping_em;
    }
    return entry->second * size_mm;
}

drawing::MeasureText Type::measure()
{
    return [this](std::string_view text, drawing::Face face, double size) { return width(text, face, size); };
}

} // namespace isochore::report
