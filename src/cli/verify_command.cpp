#include "cli/commands.h"
#include "seal/record.h"
#include "json/read.h"
#include <ostream>

namespace isochore::cli {

int verify_command(std::string const& file, std::ostream& out)
{
    auto const disk = disk::system_disk();
    auto const text = disk->read(file, 1u << 30);
    if (!text)
        return say_error(out, text.error());
    auto const record = seal::verify_record(*text);
    if (!record) {
        say_error(out, record.error());
        return 1;
    }
    out << "The record is whole and unchanged since it was sealed.\n"
        << "outage     " << record->job << '\n'
        << "entries    " << record->entries.size() << '\n'
        << "SHA-256    " << sha256_hex(*text) << '\n'
        << "sealed by  " << record->fingerprint() << '\n'
        << seal::record_footer << '\n';
    return 0;
}

} // namespace isochore::cli
