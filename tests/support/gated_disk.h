#pragma once
#include "support/faulting_disk.h"
#include <atomic>
#include <condition_variable>
#include <mutex>

namespace isochore::test {

/// Lets so many reads of files through and holds the next one until the gate is opened: slow work stands
/// still where a test wants to look at it.
class GatedDisk final : public FaultingDisk {
public:
    explicit GatedDisk(disk::Disk& below) : FaultingDisk(below, 0, Fault::broken) {}

    void shut_after(int reads)
    {
        std::lock_guard const guard(m_lock);
        m_left = reads;
    }
    void open()
    {
        std::lock_guard const guard(m_lock);
        m_left = -1;
        m_opened.notify_all();
    }
    /// Waits until a read is held.
    void wait_until_held()
    {
        std::unique_lock guard(m_lock);
        m_opened.wait(guard, [this] { return m_held > 0; });
    }
    [[nodiscard]] int reads() const { return m_reads; }

    Result<std::string> read(Path const& file, std::size_t limit) override
    {
        ++m_reads;
        std::unique_lock guard(m_lock);
        if (m_left > 0)
            --m_left;
        else if (m_left == 0) {
            ++m_held;
            m_opened.notify_all();
            m_opened.wait(guard, [this] { return m_left != 0; });
            --m_held;
        }
        guard.unlock();
        return FaultingDisk::read(file, limit);
    }

private:
    std::mutex m_lock;
    std::condition_variable m_opened;
    int m_left = -1, m_held = 0;
    std::atomic<int> m_reads{0};
};

} // namespace isochore::test
