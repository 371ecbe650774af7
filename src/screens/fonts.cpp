#include "screens/fonts.h"
#include "screens/sizes.h"
#include <cmath>
#include <cstdint>
#include <fstream>
#include <imgui/imgui.h>
#include <iterator>

static_assert(IMGUI_VERSION_NUM >= 18600, "written for Dear ImGui 1.86");

namespace isochore::screens {

using drawing::Face;

namespace {

// What nearly every sheet shows; anything else is baked when it is met.
constexpr char const* common_signs = "°±²³µ·×ÄÖÜßäöüáéíñóú–—…Ω₆≤≥−→";

unsigned be16(std::string const& bytes, std::size_t at)
{
    if (at + 1 >= bytes.size())
        return 0;
    return static_cast<unsigned>(static_cast<unsigned char>(bytes[at]) << 8) |
           static_cast<unsigned char>(bytes[at + 1]);
}

std::size_t table_offset(std::string const& bytes, std::string_view tag)
{
    unsigned const count = be16(bytes, 4);
    for (unsigned i = 0; i < count; ++i) {
        std::size_t const record = 12 + 16 * std::size_t{i};
        if (bytes.compare(record, 4, tag) == 0)
            return (std::size_t{be16(bytes, record + 8)} << 16) | be16(bytes, record + 10);
    }
    return 0;
}

// The rasteriser is told the height from ascender to descender; sizes here are em sizes. The ratio is in the
// 'hhea' and 'head' tables (ISO/IEC 14496-22).
double height_in_em(std::string const& bytes)
{
    std::size_t const hhea = table_offset(bytes, "hhea"), head = table_offset(bytes, "head");
    double const units = be16(bytes, head + 18);
    auto const signed16 = [&](std::size_t at) {
        return static_cast<double>(static_cast<std::int16_t>(be16(bytes, at)));
    };
    if (hhea == 0 || head == 0 || units <= 0.0)
        return 1.2;
    return (signed16(hhea + 4) - signed16(hhea + 6)) / units;
}

} // namespace

std::vector<unsigned> code_points(std::string_view utf8)
{
    std::vector<unsigned> points;
    points.reserve(utf8.size());
    for (std::size_t i = 0; i < utf8.size();) {
        unsigned const first = static_cast<unsigned char>(utf8[i]);
        unsigned const length = first < 0x80         ? 1
                                : (first >> 5) == 6  ? 2
                                : (first >> 4) == 14 ? 3
                                : (first >> 3) == 30 ? 4
                                                     : 0;
        if (length == 0 || i + length > utf8.size()) {
            points.push_back(0xFFFD);
            ++i;
            continue;
        }
        unsigned point = length == 1 ? first : first & (0xFFU >> (length + 1));
        for (unsigned k = 1; k < length; ++k)
            point = (point << 6) | (static_cast<unsigned char>(utf8[i + k]) & 0x3FU);
        points.push_back(point);
        i += length;
    }
    return points;
}

Result<FontSet::File> FontSet::read_file(std::string const& path, std::string const& package)
{
    std::ifstream stream(path, std::ios::binary);
    std::string bytes{std::istreambuf_iterator<char>(stream), {}};
    if (bytes.size() < 1000)
        return fail(Error::Code::not_found, path,
                    "The font file cannot be read; install the package " + package + ".");
    double const ratio = height_in_em(bytes);
    return File{std::move(bytes), ratio};
}

Result<FontSet> FontSet::load()
{
    std::string const b612 = "/usr/share/fonts/opentype/b612/B612",
                      dejavu = "/usr/share/fonts/truetype/dejavu/DejaVuSans";
    FontSet set;
    for (auto const* name : {"-Regular.otf", "-Bold.otf", "Mono-Regular.otf"}) {
        auto file = read_file(b612 + name, "fonts-b612");
        if (!file)
            return tl::unexpected(file.error());
        set.m_main.push_back(std::move(*file));
    }
    for (auto const* name : {".ttf", "-Bold.ttf", "Mono.ttf"}) {
        auto file = read_file(dejavu + name, "fonts-dejavu-core");
        if (!file)
            return tl::unexpected(file.error());
        set.m_fallback.push_back(std::move(*file));
    }
    for (double const s : {size::caption, size::body, size::strong})
        set.m_baked.push_back({Face::regular, s});
    for (double const s : {size::body, size::strong, size::title, size::digits})
        set.m_baked.push_back({Face::bold, s});
    for (unsigned c = 32; c < 127; ++c)
        set.m_wanted.insert(c);
    for (unsigned const c : code_points(common_signs))
        set.m_wanted.insert(c);
    return set;
}

void FontSet::add_font(ImFontAtlas& atlas, Baked& baked, double px_per_mm)
{
    auto const face = static_cast<std::size_t>(baked.face);
    double const em_px = std::floor(baked.size_mm * px_per_mm + 0.5);
    ImFontConfig config;
    config.FontDataOwnedByAtlas = false;
    config.OversampleH = 2; // advances are fractions of a pixel: snapping them makes the spacing uneven
    config.OversampleV = 1;
    for (auto* files : {&m_main, &m_fallback}) {
        File& file = (*files)[face];
        config.MergeMode = files == &m_fallback;
        auto const height = static_cast<float>(em_px * file.height_in_em);
        auto* font = atlas.AddFontFromMemoryTTF(file.bytes.data(), static_cast<int>(file.bytes.size()),
                                                height, &config, m_ranges.data());
        if (!config.MergeMode)
            baked.font = font;
    }
}

void FontSet::bake(ImFontAtlas& atlas, double px_per_mm)
{
    atlas.Clear();
    atlas.Flags |= ImFontAtlasFlags_NoMouseCursors;
    m_ranges.clear();
    for (unsigned const c : m_wanted) {
        if (c > 0xFFFF)
            continue; // the library is built with 16-bit characters
        m_ranges.push_back(static_cast<unsigned short>(c));
        m_ranges.push_back(static_cast<unsigned short>(c));
    }
    m_ranges.push_back(0);
    for (auto& baked : m_baked)
        add_font(atlas, baked, px_per_mm);
    atlas.Build();
    m_px_per_mm = px_per_mm;
    ++m_bakes;
    m_needs_baking = false;
    for (unsigned const c : m_wanted)
        if (c > 0xFFFF || m_baked.front().font->FindGlyphNoFallback(static_cast<ImWchar>(c)) == nullptr)
            m_unknown.insert(c);
}

namespace {

/// How far a baked size is from the one asked for. A tenth smaller is not seen, and a fresh size costs a
/// bake; a larger one would not keep to the room that was measured for the text.
double distance_of(double baked_mm, double asked_mm)
{
    double const larger = std::log(baked_mm / asked_mm);
    return std::abs(larger) + (larger > 0.02 ? 1.0 : 0.0);
}

constexpr double near_enough = 0.12;

} // namespace

FontSet::Pick FontSet::pick(Face face, double size_mm)
{
    Baked const* best = nullptr;
    double best_distance = 1e9;
    for (auto const& baked : m_baked) {
        if (baked.font == nullptr)
            continue;
        double const distance = distance_of(baked.size_mm, size_mm) + (baked.face == face ? 0.0 : 10.0);
        if (distance < best_distance) {
            best = &baked;
            best_distance = distance;
        }
    }
    if (best_distance > near_enough) {
        bool known = false;
        for (auto const& baked : m_baked)
            known = known || (baked.face == face && distance_of(baked.size_mm, size_mm) < near_enough);
        if (!known) {
            m_baked.push_back({face, size_mm});
            m_needs_baking = true;
            return pick(face, size_mm); // the push may have moved what `best` pointed at
        }
    }
    return best == nullptr ? Pick{} : Pick{best->font, best->size_mm};
}

void FontSet::want(std::string_view utf8)
{
    bool plain = true;
    for (char const c : utf8)
        plain = plain && static_cast<unsigned char>(c) < 0x80;
    if (plain)
        return;
    for (unsigned const c : code_points(utf8))
        if (c >= 32 && m_wanted.insert(c).second)
            m_needs_baking = true;
}

double FontSet::measure(std::string_view text, Face face, double size_mm)
{
    auto const picked = pick(face, size_mm);
    if (picked.font == nullptr)
        return 0.0;
    auto const extent =
        picked.font->CalcTextSizeA(picked.font->FontSize, 1e9F, 0.0F, text.data(), text.data() + text.size());
    return static_cast<double>(extent.x) / m_px_per_mm;
}

} // namespace isochore::screens
