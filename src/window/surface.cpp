#include "window/surface.h"
#include "screens/sheet.h"
#include <SDL.h>
#define GL_GLEXT_PROTOTYPES
#include <SDL_opengl.h>
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <imgui/backends/imgui_impl_opengl3.h>
#include <imgui/imgui.h>

namespace isochore::window {

namespace {

constexpr double fallback_dpi = 150.0, least_dpi = 90.0, most_dpi = 420.0;

void set_hints()
{
    // Fingers must not come a second time as a mouse, nor the mouse as a finger.
    SDL_SetHint(SDL_HINT_TOUCH_MOUSE_EVENTS, "0");
    SDL_SetHint(SDL_HINT_MOUSE_TOUCH_EVENTS, "0");
    SDL_SetHint(SDL_HINT_VIDEO_ALLOW_SCREENSAVER, "1");
}

tl::unexpected<Error> device_error(std::string const& what)
{
    return fail(Error::Code::device, "display", what + ": " + SDL_GetError() + ".");
}

} // namespace

double choose_dpi(double option, std::optional<double> setting, char const* environment, double display)
{
    double const named = environment == nullptr ? 0.0 : std::strtod(environment, nullptr);
    for (double const dpi : {option, setting.value_or(0.0), named, display})
        if (std::isfinite(dpi) && dpi > 1.0)
            return std::clamp(dpi, least_dpi, most_dpi);
    return fallback_dpi;
}

Result<std::unique_ptr<Surface>> Surface::open(WindowOptions const& options)
{
    auto fonts = screens::FontSet::load();
    if (!fonts)
        return tl::unexpected(fonts.error());
    std::unique_ptr<Surface> surface(new Surface(std::move(*fonts)));
    if (auto created = surface->create(options); !created)
        return tl::unexpected(created.error());
    return surface;
}

Result<void> Surface::create(WindowOptions const& options)
{
    set_hints();
    if (!options.driver.empty())
        SDL_SetHint(SDL_HINT_VIDEODRIVER, options.driver.c_str());
    // Video only: a joystick or sensor subsystem would turn waiting into polling.
    if (SDL_Init(SDL_INIT_VIDEO) != 0)
        return device_error("The display cannot be opened");
    SDL_StopTextInput(); // SDL 2 starts with it on, which may bring up a system keyboard
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, SDL_GL_CONTEXT_PROFILE_CORE);
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, 3);
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_MINOR_VERSION, 2);
    SDL_GL_SetAttribute(SDL_GL_DOUBLEBUFFER, 1);
    unsigned flags = SDL_WINDOW_OPENGL | SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI;
    if (options.hidden)
        flags |= SDL_WINDOW_HIDDEN;
    if (options.fullscreen)
        flags |= SDL_WINDOW_FULLSCREEN_DESKTOP;
    m_window = SDL_CreateWindow(options.title.c_str(), SDL_WINDOWPOS_UNDEFINED, SDL_WINDOWPOS_UNDEFINED,
                                options.width, options.height, flags);
    if (m_window == nullptr)
        return device_error("The window cannot be opened");
    m_gl = SDL_GL_CreateContext(m_window);
    if (m_gl == nullptr)
        return device_error("OpenGL 3.2 is not available");
    SDL_GL_SetSwapInterval(1);
    IMGUI_CHECKVERSION();
    ImGui::CreateContext();
    auto& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.LogFilename = nullptr;
    m_backend = ImGui_ImplOpenGL3_Init("#version 150");
    if (!m_backend)
        return device_error("The OpenGL backend cannot start");
    update_size();
    m_dpi_fixed = options.dpi > 0.0;
    set_dpi(choose_dpi(options.dpi, std::nullopt, std::getenv("ISOCHORE_DPI"), display_dpi()));
    return {};
}

Surface::~Surface()
{
    if (m_backend)
        ImGui_ImplOpenGL3_Shutdown();
    if (ImGui::GetCurrentContext() != nullptr)
        ImGui::DestroyContext();
    if (m_gl != nullptr)
        SDL_GL_DeleteContext(m_gl);
    if (m_window != nullptr)
        SDL_DestroyWindow(m_window);
    SDL_Quit();
}

double Surface::display_dpi() const
{
    float diagonal = 0.0F;
    int const display = std::max(0, SDL_GetWindowDisplayIndex(m_window));
    return SDL_GetDisplayDPI(display, &diagonal, nullptr, nullptr) == 0 ? static_cast<double>(diagonal) : 0.0;
}

void Surface::set_dpi(double dpi)
{
    m_px_per_mm = std::clamp(dpi, least_dpi, most_dpi) / 25.4;
}

void Surface::set_size(int width_px, int height_px)
{
    SDL_SetWindowSize(m_window, width_px, height_px);
    update_size();
}

void Surface::update_size()
{
    SDL_GL_GetDrawableSize(m_window, &m_width, &m_height);
}

void Surface::bake()
{
    m_fonts.bake(*ImGui::GetIO().Fonts, m_px_per_mm);
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
    m_baked_at = m_px_per_mm;
}

screens::PictureSpace Surface::picture_space(screens::SheetView const& view)
{
    if (m_fonts.needs_baking() || m_baked_at != m_px_per_mm)
        bake();
    m_canvas.set_size(width_mm(), height_mm());
    return screens::picture_space(m_canvas, view);
}

screens::Intent Surface::frame(screens::SheetView const& view, screens::Theme const& theme,
                               screens::FrameInput input)
{
    ImGui_ImplOpenGL3_NewFrame();
    ImGui::NewFrame();
    m_canvas.begin(*ImGui::GetBackgroundDrawList(), theme, width_mm(), height_mm(), m_px_per_mm,
                   std::move(input));
    auto intent = screens::draw_sheet(m_canvas, view);
    m_canvas.end();
    ImGui::Render();
    return intent;
}

screens::Intent Surface::draw(screens::SheetView const& view, screens::Theme const& theme,
                              screens::FrameInput input)
{
    auto& io = ImGui::GetIO();
    io.DisplaySize = {static_cast<float>(m_width), static_cast<float>(m_height)};
    io.DeltaTime = 1.0F / 60.0F; // nothing is animated by ImGui
    if (m_fonts.needs_baking() || m_baked_at != m_px_per_mm)
        bake();
    auto intent = frame(view, theme, std::move(input));
    // A new sign or size was met, or a scroll range became known: draw again, without the touches.
    for (int again = 0; again < 3 && (m_fonts.needs_baking() || m_canvas.wants_frame()); ++again) {
        if (m_fonts.needs_baking())
            bake();
        (void)frame(view, theme, {});
    }
    m_paper = theme.of(drawing::Ink::paper);
    render(m_paper);
    SDL_GL_SwapWindow(m_window);
    return intent;
}

void Surface::render(screens::Rgb paper) const
{
    glViewport(0, 0, m_width, m_height);
    glClearColor(static_cast<float>(paper.r) / 255.0F, static_cast<float>(paper.g) / 255.0F,
                 static_cast<float>(paper.b) / 255.0F, 1.0F);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
}

namespace {

// A picture of its own size to draw into: a window without a display may keep the size it was born with.
struct OffscreenTarget {
    GLuint frame = 0, colour = 0;

    OffscreenTarget(int width, int height)
    {
        glGenFramebuffers(1, &frame);
        glGenRenderbuffers(1, &colour);
        glBindRenderbuffer(GL_RENDERBUFFER, colour);
        glRenderbufferStorage(GL_RENDERBUFFER, GL_RGBA8, width, height);
        glBindFramebuffer(GL_FRAMEBUFFER, frame);
        glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, colour);
    }
    OffscreenTarget(OffscreenTarget const&) = delete;
    OffscreenTarget& operator=(OffscreenTarget const&) = delete;
    ~OffscreenTarget()
    {
        glBindFramebuffer(GL_FRAMEBUFFER, 0);
        glDeleteFramebuffers(1, &frame);
        glDeleteRenderbuffers(1, &colour);
    }
};

} // namespace

std::vector<std::uint8_t> Surface::pixels() const
{
    OffscreenTarget const target(m_width, m_height);
    render(m_paper); // what was swapped away need not be readable any more
    auto const row = static_cast<std::size_t>(m_width) * 3;
    std::vector<std::uint8_t> flipped(row * static_cast<std::size_t>(m_height)), rgb(flipped.size());
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, m_width, m_height, GL_RGB, GL_UNSIGNED_BYTE, flipped.data());
    for (std::size_t y = 0; y < static_cast<std::size_t>(m_height); ++y)
        std::copy_n(flipped.data() + (static_cast<std::size_t>(m_height) - 1 - y) * row, row,
                    rgb.data() + y * row);
    return rgb;
}

} // namespace isochore::window
