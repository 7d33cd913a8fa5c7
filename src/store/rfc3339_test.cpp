#include "store/rfc3339.hpp"

#include <gtest/gtest.h>

namespace firstdraw::store {
namespace {

std::string utc_of(std::string_view text) {
  const auto moment = moment_of(text);
  return moment ? utc_text(*moment) : "none";
}

/// RFC 3339, section 5.8, and what it says these moments are in UTC. Basis: memory of the published text.
TEST(Moment, ReadsTheExamplesOfRfc3339) {
  EXPECT_EQ(utc_of("1985-04-12T23:20:50.52Z"), "1985-04-12T23:20:50.520000Z");
  EXPECT_EQ(utc_of("1996-12-19T16:39:57-08:00"), "1996-12-20T00:39:57.000000Z");
  EXPECT_EQ(utc_of("1937-01-01T12:00:27.87+00:20"), "1937-01-01T11:40:27.870000Z");
}

TEST(Moment, RefusesWhatIsNotOne) {
  for (const char* text :
       {"", "2026-11-29", "2026-11-29T14:05:00", "2026-11-29 14:05:00Z", "2026-11-29T14:05Z",
        "2026-02-29T00:00:00Z", "2026-13-01T00:00:00Z", "2026-04-31T00:00:00Z", "2026-11-29T24:00:00Z",
        "2026-11-29T14:60:00Z", "2026-11-29T14:05:60Z", "2026-11-29T14:05:00.Z", "2026-11-29T14:05:00+6:00",
        "2026-11-29T14:05:00+24:00", "2026-11-29T14:05:00Z ", "0000-01-01T00:00:00Z", "26-11-29T14:05:00Z",
        "2026-11-29t14:05:00z"})
    EXPECT_EQ(utc_of(text), "none") << text;
  EXPECT_EQ(utc_of("2024-02-29T00:00:00-00:00"), "2024-02-29T00:00:00.000000Z");
}

TEST(Date, IsOneOfTheCalendar) {
  EXPECT_TRUE(is_date("2028-02-29"));
  for (const char* text : {"2027-02-29", "2027-3-01", "2027-03-01T", "03/01/2027", ""})
    EXPECT_FALSE(is_date(text));
}

}  // namespace
}  // namespace firstdraw::store
