#include "journal/attachments.h"
#include "disk/whole_file.h"
#include "json/read.h"
#include <algorithm>

namespace isochore::journal {
namespace {

// Also keeps a hash from a damaged entry from leading out of the folder.
bool is_hash(std::string_view text)
{
    return text.size() == 64 && std::all_of(text.begin(), text.end(), [](char c) {
               return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
           });
}

} // namespace

Attachments::Attachments(disk::Disk& disk, disk::Path const& folder)
    : m_disk(disk), m_parent(folder), m_folder(folder / "attachments")
{
}

disk::Path Attachments::path_of(std::string_view hash) const
{
    return m_folder / std::string(hash);
}

bool Attachments::has(std::string_view hash)
{
    return is_hash(hash) && m_disk.exists(path_of(hash));
}

// Flushed every time: an earlier run may have been cut off between making and flushing.
Result<void> Attachments::make_folder()
{
    return m_disk.make_directory(m_folder).and_then([&] { return m_disk.flush_directory(m_parent); });
}

Result<std::string> Attachments::keep(std::string_view bytes)
{
    if (bytes.size() > most_bytes)
        return fail(Error::Code::invalid_input, "attachment",
                    "the file has " + std::to_string(bytes.size() >> 20) + " MiB, more than the " +
                        std::to_string(most_bytes >> 20) + " MiB that are kept");
    std::string hash = sha256_hex(bytes);
    disk::Path const file = path_of(hash);
    auto done = make_folder();
    if (done && m_disk.exists(file)) {
        if (auto known = read(hash); !known)
            return known;
        done = m_disk.flush_file(file).and_then([&] { return m_disk.flush_directory(m_folder); });
    } else if (done) {
        done = disk::write_whole(m_disk, file, bytes);
    }
    if (!done)
        return tl::unexpected<Error>(done.error());
    return hash;
}

Result<std::string> Attachments::keep_file(disk::Path const& source)
{
    auto const bytes = m_disk.read(source, most_bytes);
    if (!bytes)
        return bytes;
    return keep(*bytes);
}

Result<std::string> Attachments::read(std::string_view hash)
{
    if (!is_hash(hash))
        return fail(Error::Code::invalid_input, "attachment", "this is no hash of an attachment");
    auto bytes = m_disk.read(path_of(hash), most_bytes);
    if (bytes && sha256_hex(*bytes) != hash)
        return fail(Error::Code::corrupt, path_of(hash).string(),
                    path_of(hash).string() + " does not match its hash: it is damaged and left as it is");
    return bytes;
}

} // namespace isochore::journal
