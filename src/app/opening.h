#pragma once
#include "app/controller.h"
#include <functional>
#include <memory>
#include <optional>

namespace isochore::app {

/// The program from its first frame on. As long as the store cannot be opened the sheet says what is wrong
/// with which file and that nothing was changed, and offers to look again; once it opens, the Controller takes
/// over in the same window. Someone at a tablet sees no terminal.
class Opening final : public window::Program {
public:
    /// Opens the store and makes the program behind it; asked again whenever the person looks again.
    using Open = std::function<Result<std::unique_ptr<Controller>>()>;
    /// `settings` and `words` are for the sheet shown while it does not open.
    Opening(Open open, Settings settings, Words words);

    /// Why the store is not open; nothing once it is.
    [[nodiscard]] std::optional<Error> const& error() const { return m_error; }

    screens::SheetView view(screens::PictureSpace space) override;
    void act(screens::Intent const& intent) override;
    [[nodiscard]] window::Settings settings() override;
    [[nodiscard]] std::optional<double> wake_in_s() override;
    [[nodiscard]] bool wants_quit() override;
    void pass_time(double seconds) override
    {
        if (m_pass_time)
            m_pass_time(seconds);
    }
    void set_clock(double seconds) override
    {
        if (m_set_clock)
            m_set_clock(seconds);
    }
    /// What moves the clock of a rehearsal, which is not the system's.
    void on_clock(std::function<void(double)> pass_time, std::function<void(double)> set_clock)
    {
        m_pass_time = std::move(pass_time);
        m_set_clock = std::move(set_clock);
    }

private:
    void look();
    [[nodiscard]] screens::SheetView fault_sheet() const;

    Open m_open;
    Settings m_settings;
    Words m_words;
    std::unique_ptr<Controller> m_controller;
    std::optional<Error> m_error;
    std::function<void(double)> m_pass_time, m_set_clock;
    bool m_quit = false;
};

} // namespace isochore::app
