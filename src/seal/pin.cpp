#include "seal/pin.h"
#include <algorithm>
#include <array>
#include <set>
#include <sodium.h>

namespace isochore::seal {
namespace {

constexpr std::size_t fewest_digits = 6, most_digits = 16;
constexpr unsigned long long passes = 2;
constexpr std::size_t memory_bytes = 19u * 1024u * 1024u;
constexpr int free_tries = 3;
constexpr std::int64_t first_delay_ms = 30'000, longest_delay_ms = 3'600'000;

// Up or down by one throughout, 9 and 0 being neighbours.
bool is_run(std::string_view digits)
{
    for (int const step : {1, 9}) {
        bool all = digits.size() > 1;
        for (std::size_t i = 1; i < digits.size(); ++i)
            all = all && (digits[i] - digits[i - 1] + 10) % 10 == step;
        if (all)
            return true;
    }
    return false;
}

bool repeats_a_block(std::string_view digits)
{
    for (std::size_t block = 1; block <= digits.size() / 2; ++block) {
        bool all = true;
        for (std::size_t i = block; i < digits.size(); ++i)
            all = all && digits[i] == digits[i - block];
        if (all)
            return true;
    }
    return false;
}

std::string without_doubles(std::string_view digits)
{
    std::string out(digits);
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

} // namespace

Result<void> check_pin_rules(std::string_view pin)
{
    auto const refuse = [](char const* why) { return fail(Error::Code::invalid_input, "PIN", why); };
    if (!std::all_of(pin.begin(), pin.end(), [](char c) { return c >= '0' && c <= '9'; }))
        return refuse("a PIN has digits only");
    if (pin.size() < fewest_digits || pin.size() > most_digits)
        return refuse("a PIN has 6 to 16 digits");
    if (std::set<char>(pin.begin(), pin.end()).size() < 3)
        return refuse("this PIN is too easy to guess: use at least three different digits");
    if (is_run(pin) || is_run(without_doubles(pin)))
        return refuse("this PIN is too easy to guess: its digits follow one another");
    if (repeats_a_block(pin))
        return refuse("this PIN is too easy to guess: it repeats itself");
    return {};
}

Result<std::string> hash_pin(std::string_view pin)
{
    std::array<char, crypto_pwhash_STRBYTES> text{};
    if (sodium_init() < 0 || crypto_pwhash_str_alg(text.data(), pin.data(), pin.size(), passes, memory_bytes,
                                                   crypto_pwhash_ALG_ARGON2ID13) != 0)
        return fail(Error::Code::io, "PIN", "the PIN cannot be stored: the machine is out of memory");
    return std::string(text.data());
}

bool pin_matches(std::string_view pin, std::string_view hash)
{
    std::string const text(hash); // libsodium wants a terminated text
    return sodium_init() >= 0 && crypto_pwhash_str_verify(text.c_str(), pin.data(), pin.size()) == 0;
}

std::int64_t pin_delay_ms(int wrong)
{
    if (wrong < free_tries)
        return 0;
    std::int64_t delay = first_delay_ms;
    for (int i = free_tries; i < wrong && delay < longest_delay_ms; ++i)
        delay *= 2;
    return std::min(delay, longest_delay_ms);
}

} // namespace isochore::seal
