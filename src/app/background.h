#pragma once
#include "media/stick_set.h"
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <functional>
#include <mutex>
#include <optional>
#include <thread>

namespace isochore::app {

/// One piece of slow work beside the window: it says where it stands and can be cancelled. The work must not
/// touch the journal, which belongs to the window's thread. Leaving the page cancels and waits.
template <class T> class Background {
public:
    Background() = default;
    Background(Background const&) = delete;
    Background& operator=(Background const&) = delete;
    ~Background()
    {
        m_cancel = true;
        if (m_thread.joinable())
            m_thread.join();
    }

    void start(std::function<T(media::Progress const&)> work)
    {
        m_cancel = m_done = false;
        m_result.reset();
        m_at = {};
        m_thread = std::thread([this, work = std::move(work)] {
            T result = work([this](media::WriteProgress const& at) {
                std::lock_guard const guard(m_lock);
                m_at = at;
                return !m_cancel.load();
            });
            std::lock_guard const guard(m_lock);
            m_result = std::move(result);
            m_done = true;
            m_finished.notify_all();
        });
    }
    [[nodiscard]] bool running() const { return m_thread.joinable(); }
    /// Waits until it is done, but no longer than this.
    void wait(std::chrono::milliseconds most)
    {
        std::unique_lock guard(m_lock);
        m_finished.wait_for(guard, most, [this] { return m_done.load(); });
    }
    void cancel() { m_cancel = true; }
    [[nodiscard]] media::WriteProgress at()
    {
        std::lock_guard const guard(m_lock);
        return m_at;
    }
    /// The result, once.
    [[nodiscard]] std::optional<T> take()
    {
        if (!m_thread.joinable() || !m_done)
            return std::nullopt;
        m_thread.join();
        return std::exchange(m_result, std::nullopt);
    }

private:
    std::mutex m_lock;
    std::condition_variable m_finished;
    media::WriteProgress m_at;
    std::optional<T> m_result;
    std::atomic<bool> m_cancel{false}, m_done{false};
    std::thread m_thread;
};

} // namespace isochore::app
