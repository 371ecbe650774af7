#pragma once
#include "disk/disk.h"

namespace isochore::disk {

/// Passes every call on to another disk. What a disk for rehearsals and tests gets wrong stands in one place:
/// `refuse` is asked first, and its error is the answer. Nothing else need be overridden.
class ForwardingDisk : public Disk {
public:
    /// What is about to be done; a rename is asked for with its new name.
    enum class Call {
        create,
        flush_file,
        flush_directory,
        rename,
        remove,
        make_directory,
        remove_directory,
        read,
        list,
    };
    /// `below` must outlive this.
    explicit ForwardingDisk(Disk& below) : m_below(below) {}

    Result<void> create(Path const& file, std::string_view bytes) override;
    Result<void> create_private(Path const& file, std::string_view bytes) override;
    Result<void> flush_file(Path const& file) override;
    Result<void> flush_directory(Path const& directory) override;
    Result<void> flush_folder(Path const& directory) override;
    Result<void> rename(Path const& from, Path const& to) override;
    Result<void> remove(Path const& file) override;
    Result<void> make_directory(Path const& directory) override;
    Result<void> remove_directory(Path const& directory) override;
    Result<std::string> read(Path const& file, std::size_t limit) override;
    Result<std::string> read_uncached(Path const& file, std::size_t limit) override;
    Result<std::vector<Item>> list(Path const& directory) override;
    bool exists(Path const& path) override { return m_below.exists(path); } // asks nothing that can fail

protected:
    /// An error refuses the call, which then never reaches the disk below. Passes everything by itself.
    [[nodiscard]] virtual Result<void> refuse(Call call, Path const& path);
    [[nodiscard]] Disk& below() const { return m_below; }

private:
    Disk& m_below;
};

/// Whether a call changes the disk or makes a change durable.
[[nodiscard]] bool writes(ForwardingDisk::Call call);

} // namespace isochore::disk
