#pragma once
#include <cstdint>
#include <string_view>

namespace isochore::media {

/// What the first sector of a volume says about it.
struct VolumeState {
    enum class Kind { unknown, fat12, fat16, fat32, exfat };
    Kind kind = Kind::unknown;
    bool dirty = false;      ///< was not put away cleanly
    std::uint64_t bytes = 0; ///< size the file system claims; 0 where unknown
};
[[nodiscard]] char const* kind_name(VolumeState::Kind kind);

/// Reads a boot sector of 512 bytes; anything else is unknown.
/// Source: exFAT file system specification, 3.1 (VolumeLength, VolumeFlags bit 1); FAT: ECMA-107 for the
/// layout, bit 0 of the byte at 37 (FAT12/16) or 65 (FAT32) as the kernel and fsck.fat set it.
[[nodiscard]] VolumeState read_volume_state(std::string_view sector);

} // namespace isochore::media
