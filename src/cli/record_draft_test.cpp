#include "cli/record_draft.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <ctime>

#include "cli/record_text.hpp"
#include "store/rfc3339.hpp"

namespace firstdraw::cli {
namespace {

/// Moments and offsets by the zones' rules (POSIX TZ), computed by hand.
TEST(LocalText, HasTheMachinesOffset) {
  const auto moment = *store::moment_of("2026-11-29T20:05:00Z");
  for (const auto& [zone, text] :
       {std::pair("CST6CDT,M3.2.0,M11.1.0", "2026-11-29T14:05:00-06:00"),
        std::pair("IST-5:30", "2026-11-30T01:35:00+05:30"), std::pair("NST3:30", "2026-11-29T16:35:00-03:30"),
        std::pair("UTC0", "2026-11-29T20:05:00+00:00")}) {
    setenv("TZ", zone, 1);
    tzset();
    const std::string local = local_text(moment);
    EXPECT_EQ(local, text);
    EXPECT_EQ(store::moment_of(local), moment);
  }
  unsetenv("TZ");
  tzset();
}

TEST(MediaType, IsToldByTheName) {
  EXPECT_EQ(media_type_of("runs.csv"), "text/csv");
  EXPECT_EQ(media_type_of("IMG_0042.JPG"), "image/jpeg");
  EXPECT_EQ(media_type_of("noname"), "application/octet-stream");
}

TEST(ShortHash, IsWhatFitsOnPaper) { EXPECT_EQ(short_hash("3f2a91c04d5e6f70aa"), "3f2a 91c0 4d5e 6f70"); }

TEST(Slips, AreAllNamedAtOnce) {
  RecordCommand command;
  EXPECT_EQ(slips_of(command).size(), 1U);
  command.photo = "a.jpg";
  command.action = "flushed";
  command.why = "because";
  command.at = "noon";
  // --action beside --photo, --why astray, --who missing, --words missing, no time.
  EXPECT_EQ(slips_of(command).size(), 5U);
}

}  // namespace
}  // namespace firstdraw::cli
