#pragma once
#include "quantity/result.h"
#include "screens/canvas.h"
#include "screens/views.h"
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

struct SDL_Window;

namespace isochore::window {

struct WindowOptions {
    int width = 1280, height = 800;
    bool fullscreen = false;
    bool hidden = false; ///< never shown: rehearsals without a display
    std::string driver;  ///< SDL video driver, "offscreen" without a display; empty: as SDL chooses
    double dpi = 0.0;    ///< overrides everything; 0: settings, ISOCHORE_DPI, display, in this order
    std::string title = "Isochore";
};

/// The SDL window with its OpenGL context and the ImGui backends: the only place that knows them. One a
/// process.
class Surface {
public:
    [[nodiscard]] static Result<std::unique_ptr<Surface>> open(WindowOptions const& options);
    ~Surface();
    Surface(Surface const&) = delete;
    Surface& operator=(Surface const&) = delete;

    /// Draws one frame of `view` and puts it on the display. Bakes type that was missing and draws again.
    [[nodiscard]] screens::Intent draw(screens::SheetView const& view, screens::Theme const& theme,
                                       screens::FrameInput input);

    /// Room for the picture of the step in `view` at the present size.
    [[nodiscard]] screens::PictureSpace picture_space(screens::SheetView const& view);

    [[nodiscard]] std::vector<std::uint8_t> pixels() const; ///< RGB, top row first, of the last frame
    [[nodiscard]] screens::Canvas& canvas() { return m_canvas; }
    [[nodiscard]] SDL_Window* handle() const { return m_window; }
    [[nodiscard]] int width_px() const { return m_width; }
    [[nodiscard]] int height_px() const { return m_height; }
    [[nodiscard]] double px_per_mm() const { return m_px_per_mm; }
    [[nodiscard]] double width_mm() const { return m_width / m_px_per_mm; }
    [[nodiscard]] double height_mm() const { return m_height / m_px_per_mm; }

    /// True when the options named a DPI, which then overrides everything.
    [[nodiscard]] bool dpi_is_fixed() const { return m_dpi_fixed; }
    void fix_dpi(double dpi)
    {
        m_dpi_fixed = true;
        set_dpi(dpi);
    }
    void set_dpi(double dpi); ///< clamped to what tablets have
    void set_size(int width_px, int height_px);
    void update_size();
    /// What the display says of itself; 0 when it does not know.
    [[nodiscard]] double display_dpi() const;

private:
    explicit Surface(screens::FontSet fonts) : m_fonts(std::move(fonts)), m_canvas(m_fonts) {}
    Result<void> create(WindowOptions const& options);
    screens::Intent frame(screens::SheetView const& view, screens::Theme const& theme,
                          screens::FrameInput input);
    void bake();
    void render(screens::Rgb paper) const;

    screens::FontSet m_fonts;
    screens::Canvas m_canvas;
    SDL_Window* m_window = nullptr;
    void* m_gl = nullptr;
    int m_width = 0, m_height = 0;
    double m_px_per_mm = 150.0 / 25.4, m_baked_at = 0.0;
    screens::Rgb m_paper;
    bool m_backend = false, m_dpi_fixed = false;
};

/// The first of these that is set: option, setting, the environment's ISOCHORE_DPI, the display's own word;
/// 150 when nobody knows.
[[nodiscard]] double choose_dpi(double option, std::optional<double> setting, char const* environment,
                                double display);

} // namespace isochore::window
