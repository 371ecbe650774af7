#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>
#include <string>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size);

namespace {

std::mt19937 dice(1); // the same inputs each time

std::size_t below(std::size_t limit)
{
    return limit == 0 ? 0 : dice() % limit;
}

char const* const pieces[] = {
    "{",     "}",  "[",    "]",      ",", ":",        "\"",   "\\", "\\u0000",    "\\ud800",
    "1e999", "-0", "null", "\"a\":", "0", "\xC3\xA4", "\xFF", " ",  "{\"a\":{}}", "9007199254740993"};

void mutate(std::string& text, std::vector<std::string> const& seeds)
{
    std::size_t const at = below(text.size() + 1);
    switch (below(7)) {
    case 0:
        if (at < text.size())
            text[at] = static_cast<char>(text[at] ^ (1 << below(8)));
        break;
    case 1:
        text.erase(at, below(8) + 1);
        break;
    case 2:
        text.insert(at, pieces[below(std::size(pieces))]);
        break;
    case 3:
        text.insert(at, text.substr(below(text.size() + 1), below(40)));
        break;
    case 4:
        text.resize(at);
        break;
    case 5: {
        std::string const& other = seeds[below(seeds.size())];
        text = text.substr(0, at) + other.substr(std::min(other.size(), below(other.size() + 1)));
        break;
    }
    default:
        text.insert(at, 1, static_cast<char>(dice()));
    }
}

} // namespace

// smoke CORPUS ROUNDS: gives the fuzz target each seed, then seeded mutations of them.
int main(int count, char** words)
{
    if (count != 3)
        return 2;
    std::vector<std::string> seeds;
    for (auto const& item : std::filesystem::directory_iterator(words[1])) {
        std::ostringstream bytes;
        bytes << std::ifstream(item.path(), std::ios::binary).rdbuf();
        seeds.push_back(bytes.str());
    }
    std::sort(seeds.begin(), seeds.end()); // a folder has no order of its own
    if (seeds.empty())
        return 2;
    auto const give = [](std::string const& text) {
        LLVMFuzzerTestOneInput(reinterpret_cast<std::uint8_t const*>(text.data()), text.size());
    };
    for (std::string const& seed : seeds)
        give(seed);
    int const rounds = std::atoi(words[2]);
    for (int round = 0; round < rounds; ++round) {
        std::string text = seeds[below(seeds.size())];
        for (std::size_t i = below(6) + 1; i > 0; --i)
            mutate(text, seeds);
        give(text);
    }
    std::printf("%zu seeds, %d mutations\n", seeds.size(), rounds);
    return 0;
}
