#include "screens/demo_sheets.h"
#include "screens/headless.h"
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>

using namespace isochore;

TEST_CASE("UTF-8 is read as characters, and broken bytes do no harm", "[screens][glyphs]")
{
    CHECK(screens::code_points("aΩ") == std::vector<unsigned>{'a', 0x3A9});
    CHECK(screens::code_points("\xF0\x9F\x94\xA7") == std::vector<unsigned>{0x1F527});
    CHECK(screens::code_points("\xC3") == std::vector<unsigned>{0xFFFD});
    CHECK(screens::code_points("\xFFz") == std::vector<unsigned>{0xFFFD, 'z'});
}

TEST_CASE("every sign the sheets use has a shape in the type", "[screens][glyphs]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    for (auto const& sheet : demo::sheets())
        (void)headless.draw(sheet.make({80, 60}));
    // Signs of the trade and of the three languages, whether a sheet shows them today or not.
    headless.fonts().want("Ω µ μ ± ² ³ ₀₁₂₃₄₅₆ ≤ ≥ – — … · × ÷ √ Δ ∆ σ ρ τ η φ Φ π ∞ ≈ ≠ → ← ↑ ↓ − ° ℃ ⁻¹ ½ "
                          "ä ö ü ß Ä Ö Ü á é í ó ú ñ ¿ ¡ ą ł ø å „ “ ” ’ • ●");
    headless.resize(demo::formats[0]);
    std::string missing;
    for (unsigned const c : headless.fonts().unknown())
        missing += " U+" + std::to_string(c);
    INFO("missing (decimal):" << missing);
    CHECK(headless.fonts().unknown().empty());
}

TEST_CASE("every character of the program's own texts has a shape", "[screens][glyphs]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    int files = 0;
    for (char const* folder : {"/assets/text", "/checklists", "/profiles"}) {
        std::filesystem::path const path = std::string(ISOCHORE_SOURCE_DIR) + folder;
        if (!std::filesystem::is_directory(path))
            continue;
        for (auto const& entry : std::filesystem::recursive_directory_iterator(path)) {
            if (entry.path().extension() != ".json")
                continue;
            std::ifstream stream(entry.path());
            headless.fonts().want(std::string{std::istreambuf_iterator<char>(stream), {}});
            ++files;
        }
    }
    headless.resize(demo::formats[0]);
    INFO(files << " files");
    CHECK(headless.fonts().unknown().empty());
}

TEST_CASE("a sign met for the first time is baked before it is seen", "[screens][glyphs]")
{
    demo::Headless headless;
    headless.resize(demo::formats[0]);
    auto view = demo::sheets().front().make({80, 60});
    view.block->station = "Łódź";
    (void)headless.draw(view);
    CHECK_FALSE(headless.fonts().needs_baking());
    CHECK(headless.fonts().unknown().empty());
    CHECK(headless.fonts().measure("Ł", drawing::Face::bold, 4.0) > 1.0);
}
