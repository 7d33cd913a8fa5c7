#include "serve/access.hpp"

#include <gtest/gtest.h>

#include "serve/safe_file.hpp"
#include "serve/temporary_folder.hpp"

namespace firstdraw::serve {
namespace {

using std::chrono::hours;
using std::chrono::seconds;

class AccessTest : public testing::Test {
 protected:
  TemporaryFolder folder_;
  Moment now_{seconds{1'790'000'000}};
  std::filesystem::path file() const { return folder_.path() / "devices.json"; }
  Access open() {
    return Access(file(), [this] { return now_; });
  }
};

TEST_F(AccessTest, a_code_is_good_for_one_device_and_ten_minutes) {
  Access access = open();
  const std::string code = access.new_code();
  EXPECT_EQ(code.size(), 8U);
  EXPECT_TRUE(access.pair({code, "phone"}));
  EXPECT_FALSE(access.pair({code, "another"}));
  const std::string second = access.new_code();
  now_ += Access::code_lives;
  EXPECT_FALSE(access.pair({second, "late"}));
  EXPECT_FALSE(access.pair({"", "no code"}));
}

TEST_F(AccessTest, a_new_code_takes_the_place_of_the_one_before) {
  Access access = open();
  const std::string first = access.new_code(), second = access.new_code();
  EXPECT_TRUE(first == second || !access.pair({first, "phone"}));
  EXPECT_TRUE(access.pair({second, "phone"}));
}

TEST_F(AccessTest, a_code_dies_after_five_wrong_tries) {
  Access access = open();
  const std::string code = access.new_code();
  const std::string wrong = code == "00000000" ? "00000001" : "00000000";
  for (int i = 0; i < Access::tries_per_code; ++i) EXPECT_FALSE(access.pair({wrong, "x"}));
  EXPECT_FALSE(access.pair({code, "x"}));
}

TEST_F(AccessTest, devices_and_links_last_and_are_taken_back) {
  std::string token, link;
  {
    Access access = open();
    token = access.pair({access.new_code(), "phone"})->second;
    link = access.share("riverside", {7, "owner"})->second;
  }
  Access again = open();
  const auto device = again.device_of(token);
  ASSERT_TRUE(device);
  EXPECT_EQ(device->name, "phone");
  EXPECT_EQ(again.share_of(link)->job, "riverside");
  EXPECT_FALSE(again.device_of(link));
  EXPECT_FALSE(again.share_of(token));
  EXPECT_FALSE(again.device_of(token.substr(1)));
  EXPECT_TRUE(again.revoke(device->id));
  EXPECT_FALSE(again.revoke(device->id));
  EXPECT_FALSE(open().device_of(token));
}

TEST_F(AccessTest, a_link_ends_on_its_day) {
  Access access = open();
  const std::string link = access.share("riverside", {1, "owner"})->second;
  now_ += hours{24} - seconds{1};
  EXPECT_TRUE(access.share_of(link));
  now_ += seconds{1};
  EXPECT_FALSE(access.share_of(link));
  EXPECT_TRUE(access.shares_of("riverside").empty());
}

TEST_F(AccessTest, a_file_that_does_not_read_is_no_empty_list) {
  ASSERT_TRUE(write_safely(file(), "{\"devices\": [{}]}"));
  EXPECT_THROW(open(), std::runtime_error);
}

TEST(Moments, are_written_as_rfc_3339) {
  EXPECT_EQ(text_of(Moment{seconds{0}}), "1970-01-01T00:00:00Z");
  EXPECT_EQ(text_of(Moment{seconds{1'785'024'309}}), "2026-07-26T00:05:09Z");  // date -u -d @1785024309
}

}  // namespace
}  // namespace firstdraw::serve
