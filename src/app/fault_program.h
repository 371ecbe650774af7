#pragma once
#include "app/words.h"
#include "quantity/result.h"
#include "window/program.h"

namespace isochore::app {

/// What the window shows when the store cannot be opened: what is wrong with which file, that it was left
/// as it is, and nothing to do but to look again or leave.
class FaultProgram final : public window::Program {
public:
    FaultProgram(Error error, std::string theme, Words const& words)
        : m_error(std::move(error)), m_theme(std::move(theme)), m_words(words)
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
    Words const& m_words;
    bool m_quit = false, m_retry = false;
};

} // namespace isochore::app
