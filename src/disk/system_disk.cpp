#include "disk/words.h"
#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <fcntl.h>
#include <memory>
#include <sys/stat.h>
#include <sys/vfs.h>
#include <unistd.h>

namespace isochore::disk {
namespace {

template <class Call> auto again(Call call)
{
    auto result = call();
    while (result == -1 && errno == EINTR)
        result = call();
    return result;
}

tl::unexpected<Error> failed(std::string_view doing, Path const& path)
{
    return tl::unexpected<Error>(system_error(errno, doing, path));
}

class File {
public:
    File(Path const& path, int flags, mode_t mode = 0)
        : m_fd(again([&] { return ::open(path.c_str(), flags | O_NOFOLLOW | O_CLOEXEC, mode); }))
    {
    }
    File(File const&) = delete;
    File& operator=(File const&) = delete;
    ~File()
    {
        if (m_fd >= 0)
            ::close(m_fd);
    }
    explicit operator bool() const { return m_fd >= 0; }
    [[nodiscard]] int fd() const { return m_fd; }
    /// Closes and says whether that went well: network and FUSE file systems report late write faults here.
    [[nodiscard]] bool close()
    {
        int const fd = m_fd;
        m_fd = -1;
        return ::close(fd) == 0 || errno == EINTR;
    }

private:
    int m_fd;
};

bool write_all(int fd, std::string_view bytes)
{
    while (!bytes.empty()) {
        ssize_t const written = again([&] { return ::write(fd, bytes.data(), bytes.size()); });
        if (written < 0)
            return false;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

tl::unexpected<Error> too_large(Path const& file, std::size_t limit)
{
    return fail(Error::Code::invalid_input, file.string(),
                "cannot read " + file.string() + ": it is larger than the " + std::to_string(limit) +
                    " bytes allowed");
}

/// Opens a plain file for reading; a pipe or device is refused without waiting on it.
Result<std::size_t> check_regular(File const& file, Path const& path, std::size_t limit)
{
    struct stat about {};
    if (::fstat(file.fd(), &about) != 0)
        return failed("read", path);
    if (!S_ISREG(about.st_mode))
        return fail(Error::Code::denied, path.string(),
                    "cannot read " + path.string() + ": it is not a file");
    if (static_cast<std::uint64_t>(about.st_size) > limit)
        return too_large(path, limit);
    return static_cast<std::size_t>(about.st_size);
}

/// Reads to the end into aligned blocks, as O_DIRECT asks. errno is set on failure.
class AlignedReader {
public:
    AlignedReader() : m_block(static_cast<char*>(std::aligned_alloc(alignment, size)), &std::free) {}

    /// Returns false on a read fault; `out` stops growing once past `limit`.
    bool read_all(int fd, std::string& out, std::size_t limit)
    {
        for (;;) {
            ssize_t const got = again([&] { return ::read(fd, m_block.get(), size); });
            if (got < 0)
                return false;
            out.append(m_block.get(), static_cast<std::size_t>(got));
            if (got == 0 || out.size() > limit)
                return true;
        }
    }

private:
    static constexpr std::size_t alignment = 4096, size = 256 * 1024;
    std::unique_ptr<char, void (*)(void*)> m_block;
};

bool is_fuse(Path const& path)
{
    constexpr auto fuse_magic = 0x65735546; // FUSE_SUPER_MAGIC, linux/magic.h
    struct statfs about {};
    return ::statfs(path.c_str(), &about) == 0 && about.f_type == fuse_magic;
}

class SystemDisk final : public Disk {
public:
    Result<void> create(Path const& file, std::string_view bytes) override
    {
        return create_with_mode(file, bytes, 0666);
    }

    Result<void> create_private(Path const& file, std::string_view bytes) override
    {
        return create_with_mode(file, bytes, 0600);
    }

    Result<void> flush_file(Path const& file) override { return flush(file, O_RDONLY | O_NONBLOCK); }

    Result<void> flush_directory(Path const& directory) override
    {
        return flush(directory, O_RDONLY | O_DIRECTORY);
    }

    /// syncfs writes everything back but does not make every file system (FAT) tell the device to empty its
    /// own cache; the fsync of the directory after it does. A FUSE file system is never asked by syncfs.
    Result<void> flush_folder(Path const& directory) override
    {
        if (is_fuse(directory))
            return Disk::flush_folder(directory);
        {
            File const folder(directory, O_RDONLY | O_DIRECTORY);
            if (!folder || again([&] { return ::syncfs(folder.fd()); }) != 0)
                return failed("flush", directory);
        }
        return flush_directory(directory);
    }

    Result<void> rename(Path const& from, Path const& to) override
    {
        if (again([&] {
                return ::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE);
            }) == 0)
            return {};
        // Some FUSE file systems know no flags. Nobody else writes in our folders, so looking first is safe.
        if (errno == EINVAL || errno == ENOSYS) {
            if (exists(to)) {
                errno = EEXIST;
                return failed("rename to", to);
            }
            if (::rename(from.c_str(), to.c_str()) == 0)
                return {};
        }
        return failed("rename to", errno == ENOENT ? from : to);
    }

    Result<void> remove(Path const& file) override
    {
        if (::unlink(file.c_str()) != 0)
            return failed("remove", file);
        return {};
    }

    Result<void> make_directory(Path const& directory) override
    {
        if (::mkdir(directory.c_str(), 0777) == 0)
            return {};
        int const number = errno;
        struct stat about {};
        if (number == EEXIST && ::stat(directory.c_str(), &about) == 0 && S_ISDIR(about.st_mode))
            return {};
        errno = number;
        return failed("make the folder", directory);
    }

    Result<void> remove_directory(Path const& directory) override
    {
        if (::rmdir(directory.c_str()) != 0)
            return failed("remove the folder", directory);
        return {};
    }

    Result<std::string> read(Path const& file, std::size_t limit) override
    {
        File const in(file, O_RDONLY | O_NONBLOCK);
        if (!in)
            return failed("read", file);
        return read_open(in, file, limit);
    }

    Result<std::string> read_uncached(Path const& file, std::size_t limit) override
    {
        if (File const direct(file, O_RDONLY | O_NONBLOCK | O_DIRECT); direct) {
            auto out = read_open(direct, file, limit);
            if (out || errno != EINVAL) // EINVAL: the file system takes the flag and then cannot do it
                return out;
        } else if (errno != EINVAL) {
            return failed("read", file);
        }
        File const in(file, O_RDONLY | O_NONBLOCK);
        if (!in)
            return failed("read", file);
        // Only clean pages can be dropped. Both calls are best effort here: reading is what must succeed.
        if (::fsync(in.fd()) == 0)
            static_cast<void>(::posix_fadvise(in.fd(), 0, 0, POSIX_FADV_DONTNEED));
        return read_open(in, file, limit);
    }

    Result<std::vector<Item>> list(Path const& directory) override
    {
        std::error_code error;
        std::filesystem::directory_iterator at(directory, error);
        std::filesystem::directory_iterator const end;
        std::vector<Item> items;
        while (!error && at != end) {
            struct stat about {};
            if (::lstat(at->path().c_str(), &about) == 0)
                items.push_back({at->path().filename().string(), S_ISDIR(about.st_mode),
                                 S_ISREG(about.st_mode),
                                 S_ISREG(about.st_mode) ? static_cast<std::uint64_t>(about.st_size) : 0});
            at.increment(error);
        }
        if (error)
            return tl::unexpected<Error>(system_error(error.value(), "list", directory));
        std::sort(items.begin(), items.end(), [](Item const& a, Item const& b) { return a.name < b.name; });
        return items;
    }

    bool exists(Path const& path) override
    {
        struct stat about {};
        return ::lstat(path.c_str(), &about) == 0;
    }

private:
    static Result<void> create_with_mode(Path const& file, std::string_view bytes, mode_t mode)
    {
        File out(file, O_WRONLY | O_CREAT | O_EXCL, mode);
        if (!out)
            return failed("create", file);
        bool const written = write_all(out.fd(), bytes);
        int const number = errno;
        if (written && out.close())
            return {};
        int const why = written ? errno : number;
        ::unlink(file.c_str()); // a half file of our own; a fault here changes nothing about the answer
        errno = why;
        return failed("write", file);
    }

    static Result<void> flush(Path const& path, int flags)
    {
        File const file(path, flags);
        if (!file || again([&] { return ::fsync(file.fd()); }) != 0)
            return failed("flush", path);
        return {};
    }

    static Result<std::string> read_open(File const& in, Path const& file, std::size_t limit)
    {
        errno = 0;
        auto const size = check_regular(in, file, limit);
        if (!size)
            return tl::unexpected<Error>(size.error());
        std::string out;
        out.reserve(*size);
        if (!AlignedReader().read_all(in.fd(), out, limit))
            return failed("read", file);
        if (out.size() > limit)
            return too_large(file, limit);
        return out;
    }
};

} // namespace

std::unique_ptr<Disk> system_disk()
{
    return std::make_unique<SystemDisk>();
}

} // namespace isochore::disk
