#include "journal/attachments.h"
#include "disk/whole_file.h"
#include "json/hex.h"
#include "json/read.h"

namespace isochore::journal {
namespace {

// Also keeps a hash from a damaged entry from leading out of the folder.
bool is_hash(std::string_view text)
{
    return is_hex(text, 64);
}

} // namespace

Attachments::Attachments(disk::Disk& disk, disk::Path const& folder)
    : m_disk(disk), m_folder(folder / "attachments")
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

Result<std::string> Attachments::keep(std::string_view bytes)
{
    if (bytes.size() > most_bytes)
        return fail(Error::Code::invalid_input, "attachment",
                    "the file has " + std::to_string(bytes.size() >> 20) + " MiB, more than the " +
                        std::to_string(most_bytes >> 20) + " MiB that are kept");
    std::string hash = sha256_hex(bytes);
    auto const kept = [&] { return disk::keep_whole(m_disk, path_of(hash), bytes); };
    auto done = disk::make_durable_directory(m_disk, m_folder).and_then(kept);
    if (!done && done.error().code == Error::Code::corrupt)
        done = put_aside(path_of(hash)).and_then(kept);
    if (!done)
        return tl::unexpected<Error>(done.error());
    return hash;
}

Result<void> Attachments::put_aside(disk::Path const& damaged)
{
    for (int n = 1;; ++n) {
        disk::Path aside = damaged;
        aside += ".damaged-" + std::to_string(n);
        if (!m_disk.exists(aside))
            return m_disk.rename(damaged, aside);
    }
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
