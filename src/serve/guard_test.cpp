#include "serve/guard.hpp"

#include <gtest/gtest.h>

#include "serve/limits.hpp"
#include "serve/page_files.hpp"
#include "serve/uploads.hpp"
#include "serve/zip.hpp"

namespace firstdraw::serve {
namespace {

const Door home{false, 8450, {"localhost", "127.0.0.1", "[::1]"}};
const Door network{true, 8451, {"192.168.1.7", "[fd00::7]", "shed.local"}};

TEST(Guard, knows_its_own_names) {
  EXPECT_EQ(asked_name(home, "localhost:8450"), "localhost");
  EXPECT_EQ(asked_name(home, "LocalHost"), "localhost");
  EXPECT_EQ(asked_name(home, "[::1]:8450"), "[::1]");
  EXPECT_EQ(asked_name(network, "[fd00::7]:8451"), "[fd00::7]");
  EXPECT_EQ(asked_name(network, "shed.local:8451"), "shed.local");
  for (const char* host : {"", "localhost:8451", "localhost:", "localhost:8450x", "evil.example",
                           "localhost.evil.example", "192.168.1.7", ":8450", "[::1]:x"})
    EXPECT_EQ(asked_name(home, host), std::nullopt) << host;
}

TEST(Guard, takes_writes_from_its_own_origin) {
  const auto from = [](const std::string& origin, const std::string& site) {
    Head head;
    head.origin = origin;
    head.fetch_site = site;
    return check_origin(network, head, "shed.local").has_value();
  };
  EXPECT_TRUE(from("https://shed.local:8451", "same-origin"));
  EXPECT_TRUE(from("", ""));  // no browser
  EXPECT_FALSE(from("http://shed.local:8451", ""));
  EXPECT_FALSE(from("https://shed.local", ""));
  EXPECT_FALSE(from("null", ""));
  EXPECT_FALSE(from("https://evil.example", ""));
  EXPECT_FALSE(from("", "cross-site"));
  EXPECT_FALSE(from("", "same-site"));
}

TEST(Guard, finds_cookies_by_their_whole_name) {
  EXPECT_EQ(cookie("a=1; firstdraw-device=xyz; b=2", device_cookie), "xyz");
  EXPECT_EQ(cookie("firstdraw-device=xyz", device_cookie), "xyz");
  EXPECT_EQ(cookie("not-firstdraw-device=xyz", device_cookie), "");
  EXPECT_EQ(cookie("firstdraw-device", device_cookie), "");
  EXPECT_EQ(cookie("", device_cookie), "");
}

std::string policy_for(std::string_view type) {
  for (const auto& [name, value] : usual_headers(type))
    if (name == "Content-Security-Policy") return value;
  return "";
}

TEST(Guard, lets_a_service_worker_fetch_from_its_own_server_only) {
  const std::string policy = policy_for("text/javascript; charset=utf-8");
  EXPECT_NE(policy.find("connect-src 'self';"), std::string::npos);
  EXPECT_NE(policy.find("default-src 'none';"), std::string::npos);
  EXPECT_EQ(policy_for("image/svg+xml").find("connect-src"), std::string::npos);
}

TEST(Guard, lets_a_page_run_nothing_but_its_own_files) {
  const std::string policy = policy_for("text/html; charset=utf-8");
  EXPECT_NE(policy.find("default-src 'none';"), std::string::npos);
  EXPECT_NE(policy.find("script-src 'self';"), std::string::npos);
  EXPECT_EQ(policy.find("unsafe"), std::string::npos);
}

TEST(Limits, refill_at_their_rate) {
  Limits limits;
  const Rate rate{2, 3};
  const Limits::Time start{};
  for (int i = 0; i < 3; ++i) EXPECT_TRUE(limits.allow("a", rate, start));
  EXPECT_FALSE(limits.allow("a", rate, start));
  EXPECT_TRUE(limits.allow("b", rate, start));  // everybody has their own
  EXPECT_TRUE(limits.allow("a", rate, start + std::chrono::milliseconds{500}));
  EXPECT_FALSE(limits.allow("a", rate, start + std::chrono::milliseconds{500}));
}

TEST(Holds, are_given_back) {
  Holds holds;
  EXPECT_TRUE(holds.take("a", 1));
  EXPECT_FALSE(holds.take("a", 1));
  holds.give_back("a");
  EXPECT_TRUE(holds.take("a", 1));
}

TEST(Uploads, are_known_by_what_they_begin_with) {
  EXPECT_EQ(type_by_content("\xFF\xD8\xFF\xE0 and so on"), "image/jpeg");
  EXPECT_EQ(type_by_content(std::string_view("RIFF\0\0\0\0WEBPVP8 ", 16)), "image/webp");
  EXPECT_EQ(type_by_content(std::string_view("\0\0\0\x18"
                                             "ftypheic....",
                                             16)),
            "image/heic");
  EXPECT_EQ(type_by_content("%PDF-1.7 and so on"), "application/pdf");
  for (const char* text : {"", "<html>", "<svg xmlns=", "RIFF", "GIF89a........", "\x89PNG"})
    EXPECT_EQ(type_by_content(text), "") << text;
}

TEST(Zip, is_the_same_for_the_same_files) {
  const auto one = zip_of({{"a.txt", "alpha"}, {"b/ü.txt", "beta"}}),
             two = zip_of({{"a.txt", "alpha"}, {"b/ü.txt", "beta"}});
  ASSERT_TRUE(one) << one.error();
  EXPECT_EQ(*one, *two);
  EXPECT_TRUE(one->starts_with("PK"));
  EXPECT_EQ(attachment_header("mill lane \"2\".zip"),
            "attachment; filename=\"mill_lane__2_.zip\"; filename*=UTF-8''mill%20lane%20%222%22.zip");
}

TEST(PageFiles, of_the_page_built_in_are_whole) {
  const PageFiles& page = built_in_page();
  if (page.empty()) GTEST_SKIP() << "built without the page";
  ASSERT_TRUE(page.contains("/index.html"));
  EXPECT_TRUE(page.at("/index.html").bytes.starts_with("<!"));
  for (const auto& [path, file] : page)
    EXPECT_TRUE(!path.ends_with(".woff2") || file.bytes.starts_with("wOF2")) << path;
}

}  // namespace
}  // namespace firstdraw::serve
