#include "media/volume_state.h"

namespace isochore::media {
namespace {

using Kind = VolumeState::Kind;
constexpr std::size_t sector_bytes = 512;

std::uint64_t little_endian(std::string_view bytes, std::size_t at, std::size_t length)
{
    std::uint64_t value = 0;
    for (std::size_t i = length; i-- > 0;)
        value = value << 8 | static_cast<unsigned char>(bytes[at + i]);
    return value;
}

VolumeState read_exfat(std::string_view s)
{
    VolumeState state{Kind::exfat, (little_endian(s, 106, 2) & 0x0002) != 0, 0};
    auto const sector_shift = little_endian(s, 108, 1);
    if (sector_shift >= 9 && sector_shift <= 12)
        state.bytes = little_endian(s, 72, 8) << sector_shift;
    return state;
}

/// The kind follows from the count of clusters, as ECMA-107 and its later practice count them.
VolumeState read_fat(std::string_view s)
{
    auto const sector = little_endian(s, 11, 2), cluster = little_endian(s, 13, 1);
    auto const reserved = little_endian(s, 14, 2), fats = little_endian(s, 16, 1);
    auto const root_entries = little_endian(s, 17, 2);
    auto const small_total = little_endian(s, 19, 2), fat_sectors = little_endian(s, 22, 2);
    bool const plausible = (sector == 512 || sector == 1024 || sector == 2048 || sector == 4096) &&
                           cluster != 0 && (cluster & (cluster - 1)) == 0 && reserved != 0 &&
                           (fats == 1 || fats == 2);
    if (!plausible)
        return {};
    auto const total = small_total ? small_total : little_endian(s, 32, 4);
    if (fat_sectors == 0)
        return {Kind::fat32, (s[65] & 1) != 0, total * sector};
    auto const overhead = reserved + fats * fat_sectors + (root_entries * 32 + sector - 1) / sector;
    if (overhead >= total)
        return {};
    bool const fat12 = (total - overhead) / cluster < 4085;
    return {fat12 ? Kind::fat12 : Kind::fat16, (s[37] & 1) != 0, total * sector};
}

} // namespace

char const* kind_name(VolumeState::Kind kind)
{
    switch (kind) {
    case Kind::unknown:
        return "unknown";
    case Kind::fat12:
        return "FAT12";
    case Kind::fat16:
        return "FAT16";
    case Kind::fat32:
        return "FAT32";
    case Kind::exfat:
        return "exFAT";
    }
    return "unknown";
}

VolumeState read_volume_state(std::string_view sector)
{
    if (sector.size() < sector_bytes || little_endian(sector, 510, 2) != 0xAA55)
        return {};
    if (sector.substr(3, 8) == "EXFAT   ")
        return read_exfat(sector);
    return read_fat(sector);
}

} // namespace isochore::media
