#pragma once
#include "app/desk.h"
#include "session/stick.h"
#include "session/stick_targets.h"
#include <atomic>
#include <mutex>
#include <thread>

namespace isochore::app {

/// Choose a target, write, read back, done. The writing runs beside the window and can be cancelled: the
/// previous set stays valid until the new one is whole.
class StickPage final : public Page {
public:
    StickPage() = default;
    ~StickPage() override;
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    [[nodiscard]] std::optional<double> wake_in_s() const override
    {
        return m_worker.joinable() ? std::optional(0.1) : std::nullopt;
    }
    void tick(Desk& desk) override;

private:
    void start(Desk& desk, std::string const& target);
    void type_folder(Desk& desk);

    struct Shared {
        std::mutex lock;
        media::WriteProgress progress;
        std::optional<Result<media::VerifiedSet>> result;
        std::atomic<bool> cancel{false}, done{false};
    };
    Shared m_shared;
    std::thread m_worker;
    std::string m_target, m_problem;
    std::optional<std::vector<session::StickTarget>> m_targets; ///< looked for once a visit
    std::optional<media::VerifiedSet> m_written;
};

} // namespace isochore::app
