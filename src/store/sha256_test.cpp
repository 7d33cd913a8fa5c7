#include "store/sha256.hpp"

#include <gtest/gtest.h>

#include <string>

namespace firstdraw::store {
namespace {

/// FIPS 180-4's examples of SHA-256 ("abc"; 448 bits), and the digests of nothing and of a million "a" that
/// NIST publishes beside them. Basis: memory, and computed with sha256sum of GNU coreutils.
TEST(Sha256, GivesThePublishedDigests) {
  EXPECT_EQ(sha256_hex("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(sha256_hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(sha256_hex(""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  EXPECT_EQ(sha256_hex(std::string(1'000'000, 'a')),
            "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST(Sha256, KnowsADigestWhenItSeesOne) {
  EXPECT_TRUE(is_sha256_hex(sha256_hex("x")));
  EXPECT_FALSE(is_sha256_hex(sha256_hex("x").substr(1)));
  EXPECT_FALSE(is_sha256_hex("BA7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"));
}

}  // namespace
}  // namespace firstdraw::store
