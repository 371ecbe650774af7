#pragma once
#include "screens/sheet.h"
#include <imgui/imgui.h>
#include <stdexcept>

/// A canvas without a window: type is baked and everything is laid out, only nobody sees it.
namespace isochore::demo {

struct Format {
    char const* name;
    int width_px, height_px;
    double dpi;
};

// A 10.1 inch tablet in the three resolutions it is sold with, both ways up, and an 8 inch and a 12 inch one.
inline constexpr Format formats[] = {{"1280x800", 1280, 800, 149.5},       {"800x1280", 800, 1280, 149.5},
                                     {"1920x1200", 1920, 1200, 224.2},     {"1200x1920", 1200, 1920, 224.2},
                                     {"2560x1600", 2560, 1600, 299.0},     {"1600x2560", 1600, 2560, 299.0},
                                     {"1920x1080 12in", 1920, 1080, 183.6}};

class Headless {
public:
    Headless() : m_context(ImGui::CreateContext()), m_fonts(load()), m_canvas(m_fonts)
    {
        ImGui::GetIO().IniFilename = nullptr;
    }
    ~Headless() { ImGui::DestroyContext(m_context); }
    Headless(Headless const&) = delete;
    Headless& operator=(Headless const&) = delete;

    void resize(Format const& format)
    {
        m_format = format;
        m_px_per_mm = format.dpi / 25.4;
        bake();
    }
    [[nodiscard]] double width() const { return m_format.width_px / m_px_per_mm; }
    [[nodiscard]] double height() const { return m_format.height_px / m_px_per_mm; }

    screens::Intent draw(screens::SheetView const& view, screens::FrameInput input = {})
    {
        auto const intent = frame(view, std::move(input));
        for (int again = 0; again < 3 && (m_fonts.needs_baking() || m_canvas.wants_frame()); ++again) {
            if (m_fonts.needs_baking())
                bake();
            (void)frame(view, {});
        }
        return intent;
    }
    screens::PictureSpace picture_space(screens::SheetView const& view)
    {
        m_canvas.set_size(width(), height());
        return screens::picture_space(m_canvas, view);
    }
    screens::Canvas& canvas() { return m_canvas; }
    screens::FontSet& fonts() { return m_fonts; }

private:
    static screens::FontSet load()
    {
        auto fonts = screens::FontSet::load();
        if (!fonts)
            throw std::runtime_error(fonts.error().detail);
        return std::move(*fonts);
    }
    void bake()
    {
        auto& io = ImGui::GetIO();
        m_fonts.bake(*io.Fonts, m_px_per_mm);
        unsigned char* pixels = nullptr;
        int w = 0, h = 0;
        io.Fonts->GetTexDataAsAlpha8(&pixels, &w, &h);
    }
    screens::Intent frame(screens::SheetView const& view, screens::FrameInput input)
    {
        auto& io = ImGui::GetIO();
        io.DisplaySize = {static_cast<float>(m_format.width_px), static_cast<float>(m_format.height_px)};
        io.DeltaTime = 1.0F / 60.0F;
        ImGui::NewFrame();
        m_canvas.begin(*ImGui::GetBackgroundDrawList(), screens::theme_named("print"), width(), height(),
                       m_px_per_mm, std::move(input));
        auto intent = screens::draw_sheet(m_canvas, view);
        m_canvas.end();
        ImGui::Render();
        return intent;
    }

    ImGuiContext* m_context;
    screens::FontSet m_fonts;
    screens::Canvas m_canvas;
    Format m_format = formats[0];
    double m_px_per_mm = 1.0;
};

} // namespace isochore::demo
