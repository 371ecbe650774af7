#include "cli/pin_input.h"
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <unistd.h>

namespace isochore::cli {
namespace {

using Code = Error::Code;
constexpr std::size_t longest_line = 64;

/// One byte at a time, so that nothing behind the line is taken from whoever reads on.
Result<std::string> first_line(int descriptor, std::string const& where)
{
    std::string line;
    for (char c = 0; line.size() <= longest_line;) {
        auto const got = ::read(descriptor, &c, 1);
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            return fail(Code::io, where, std::string("the PIN cannot be read: ") + std::strerror(errno));
        if (got == 0 || c == '\n')
            break;
        if (c != '\r')
            line += c;
    }
    if (line.empty())
        return fail(Code::missing_input, where, "there is no PIN in its first line");
    return line;
}

} // namespace

Result<std::string> read_pin(std::string const& file, int descriptor)
{
    if (descriptor >= 0)
        return first_line(descriptor, "--pin-fd " + std::to_string(descriptor));
    if (file == "-")
        return first_line(0, "standard input");
    if (file.empty())
        return fail(Code::missing_input, "--pin-file",
                    "people on this tablet have PINs: give the PIN of the one who answers, in a file "
                    "(--pin-file, \"-\" for standard input) or on a descriptor (--pin-fd)");
    int const opened = ::open(file.c_str(), O_RDONLY | O_CLOEXEC);
    if (opened < 0)
        return fail(Code::not_found, file, std::string("the PIN cannot be read: ") + std::strerror(errno));
    auto line = first_line(opened, file);
    ::close(opened);
    return line;
}

} // namespace isochore::cli
