#pragma once
#include "quantity/result.h"
#include "window/program.h"

namespace isochore::app {

/// What the window shows when the store cannot be opened: what is wrong with which file, that it was left
/// as it is, and nothing to do but to look again or leave.
class FaultProgram final : public window::Program {
public:
    explicit FaultProgram(Error error, std::string theme)
        : m_error(std::move(error)), m_theme(std::move(theme))
    {
    }
    screens::SheetView view(screens::PictureSpace space) override;
    void act(screens::Intent const& intent) override;
    window::Settings settings() override
    {
        window::Settings chosen;
        chosen.theme = m_theme;
        return chosen;
    }
    std::optional<double> wake_in_s() override { return std::nullopt; }
    bool wants_quit() override { return m_quit; }
    [[nodiscard]] bool wants_retry() const { return m_retry; }

private:
    Error m_error;
    std::string m_theme;
    bool m_quit = false, m_retry = false;
};

} // namespace isochore::app
