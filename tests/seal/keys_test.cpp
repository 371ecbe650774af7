#include "disk/disk.h"
#include "seal/keys.h"
#include "support/faulting_disk.h"
#include "support/recording_disk.h"
#include "support/temporary_folder.h"
#include "json/read.h"
#include <catch2/catch.hpp>

using namespace isochore;
using isochore::test::RecordingDisk;
using isochore::test::TemporaryFolder;

TEST_CASE("signatures are those of RFC 8032 section 7.1, tests 1 to 3")
{
    struct Row {
        char const *seed, *public_key, *message, *signature;
    };
    static Row const rows[] = {
        {"9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
         "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a", "",
         "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e06522490155"
         "5fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b"},
        {"4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
         "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c", "\x72",
         "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da"
         "085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00"},
        {"c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
         "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025", "\xaf\x82",
         "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac"
         "18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a"},
    };
    for (Row const& row : rows) {
        auto const key = seal::TabletKey::from_seed(row.seed);
        REQUIRE(key);
        CHECK(key->public_key() == row.public_key);
        CHECK(key->sign(row.message) == row.signature);
        CHECK(seal::signature_holds(row.public_key, row.message, row.signature));
        CHECK_FALSE(seal::signature_holds(row.public_key, std::string(row.message) + "x", row.signature));
    }
}

TEST_CASE("malformed keys and signatures hold nothing")
{
    auto const key = *seal::TabletKey::from_seed(std::string(64, '7'));
    std::string const signature = key.sign("text");
    REQUIRE(seal::signature_holds(key.public_key(), "text", signature));
    std::string upper = signature;
    for (char& c : upper)
        c = static_cast<char>(std::toupper(c));
    CHECK_FALSE(seal::signature_holds(key.public_key(), "text", upper)); // one form only
    CHECK_FALSE(seal::signature_holds(key.public_key(), "text", signature + "00"));
    CHECK_FALSE(seal::signature_holds(key.public_key(), "text", ""));
    CHECK_FALSE(seal::signature_holds("", "text", signature));
    // The neutral element as key verifies anything for a careless verifier (RFC 8032, 5.1.7; small order).
    CHECK_FALSE(seal::signature_holds("01" + std::string(62, '0'), "text", "01" + std::string(126, '0')));
    CHECK_FALSE(seal::TabletKey::from_seed("7"));
}

TEST_CASE("the key is made once, for its owner's eyes only, and stays the same")
{
    TemporaryFolder const folder;
    auto const disk = disk::system_disk();
    auto const first = seal::load_or_make_key(*disk, folder.path());
    REQUIRE(first);
    auto const second = seal::load_or_make_key(*disk, folder.path());
    REQUIRE(second);
    CHECK(first->public_key() == second->public_key());
    using std::filesystem::perms;
    CHECK(std::filesystem::status(folder / "tablet.key").permissions() ==
          (perms::owner_read | perms::owner_write));
    CHECK(disk->list(folder.path())->size() == 1);
}

TEST_CASE("two tablets have different keys")
{
    RecordingDisk a, b;
    CHECK(seal::load_or_make_key(a, "/")->public_key() != seal::load_or_make_key(b, "/")->public_key());
}

TEST_CASE("a damaged key is named and left as it is")
{
    RecordingDisk disk;
    REQUIRE(seal::load_or_make_key(disk, "/"));
    std::string const text = *disk.read("/tablet.key", 4096);
    for (std::size_t i = 0; i < text.size(); ++i) {
        RecordingDisk other;
        std::string changed = text;
        changed[i] = changed[i] == '0' ? '1' : '0';
        REQUIRE(other.create("/tablet.key", changed));
        auto const key = seal::load_or_make_key(other, "/");
        REQUIRE_FALSE(key);
        CHECK(key.error().code == Error::Code::corrupt);
        CHECK(other.read("/tablet.key", 4096) == changed);
    }
}

TEST_CASE("a fingerprint is the first eight bytes of the key's hash in groups of four digits")
{
    std::string const key = "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a";
    std::string bytes;
    for (std::size_t i = 0; i < key.size(); i += 2)
        bytes += static_cast<char>(std::stoi(key.substr(i, 2), nullptr, 16));
    std::string const digits = sha256_hex(bytes);
    std::string const expected = digits.substr(0, 4) + " " + digits.substr(4, 4) + " " + digits.substr(8, 4) +
                                 " " + digits.substr(12, 4);
    CHECK(seal::fingerprint_of(key) == expected);
    CHECK(seal::fingerprint_of("nonsense").empty());
}

TEST_CASE("whatever call fails while a key is made, there is no half key, and the next start has one")
{
    for (auto const fault :
         {test::Fault::full, test::Fault::short_write, test::Fault::broken, test::Fault::read_only})
        for (int n = 1;; ++n) {
            RecordingDisk disk;
            test::FaultingDisk faulting(disk, n, fault);
            auto const key = seal::load_or_make_key(faulting, "/");
            if (!faulting.failed()) {
                CHECK(key);
                CHECK(n > 4);
                break;
            }
            auto const next = seal::load_or_make_key(disk, "/");
            REQUIRE(next);
            if (key)
                CHECK(next->public_key() == key->public_key());
        }
}
