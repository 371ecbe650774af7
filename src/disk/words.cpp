#include "disk/words.h"
#include <cerrno>
#include <system_error>

namespace isochore::disk {
namespace {

struct Reason {
    int number;
    Error::Code code;
    char const* words;
};

constexpr Reason reasons[] = {
    {ENOSPC, Error::Code::io, "the disk is full"},
    {EDQUOT, Error::Code::io, "the disk space allowed to this user is used up"},
    {EFBIG, Error::Code::io, "the file would be larger than this disk allows"},
    {EROFS, Error::Code::denied, "the disk is read-only"},
    {EACCES, Error::Code::denied, "this user has no permission"},
    {EPERM, Error::Code::denied, "the system does not permit it"},
    {EIO, Error::Code::io, "the disk reported a fault"},
    {ENOENT, Error::Code::not_found, "it does not exist"},
    {ENOTDIR, Error::Code::not_found, "a part of its path is not a folder"},
    {EEXIST, Error::Code::denied, "it exists already and nothing is overwritten"},
    {ENOTEMPTY, Error::Code::denied, "the folder is not empty"},
    {ELOOP, Error::Code::denied, "it is a symbolic link"},
    {EISDIR, Error::Code::denied, "it is a folder"},
    {EMFILE, Error::Code::io, "too many files are open"},
    {ENAMETOOLONG, Error::Code::invalid_input, "its name is too long"},
    {ENODEV, Error::Code::device, "the device is gone"},
    {ENXIO, Error::Code::device, "the device is gone"},
    {ENOMEDIUM, Error::Code::device, "no medium is in the device"},
};

} // namespace

Error system_error(int number, std::string_view doing, Path const& path)
{
    std::string const what = "cannot " + std::string(doing) + " " + path.string() + ": ";
    for (Reason const& reason : reasons)
        if (reason.number == number)
            return {reason.code, path.string(), what + reason.words};
    return {Error::Code::io, path.string(), what + std::generic_category().message(number)};
}

} // namespace isochore::disk
