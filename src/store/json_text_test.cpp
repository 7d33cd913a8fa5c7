#include "store/json_text.hpp"

#include <gtest/gtest.h>

#include <string>

namespace firstdraw::store {
namespace {

std::string canonical(std::string_view text) {
  const auto result = canonical_json(text);
  return result ? *result : "refused: " + result.error();
}

/// RFC 8785, section 3.2.3: the example of sorting, by UTF-16 units. Basis: memory of the published text; the
/// order follows from its rule (the smiling face is D83D DE00, before FB33).
TEST(CanonicalJson, SortsKeysByTheirUtf16Units) {
  EXPECT_EQ(
      canonical(
          R"({"\u20ac": "Euro Sign", "\r": "Carriage Return", "\ufb33": "Hebrew Letter Dalet With Dagesh",
                "1": "One", "\ud83d\ude00": "Emoji: Grinning Face", "\u0080": "Control",
                "\u00f6": "Latin Small Letter O With Diaeresis"})"),
      "{\"\\r\":\"Carriage Return\",\"1\":\"One\",\"\xC2\x80\":\"Control\","
      "\"ö\":\"Latin Small Letter O With Diaeresis\",\"€\":\"Euro Sign\","
      "\"😀\":\"Emoji: Grinning Face\",\"\xEF\xAC\xB3\":\"Hebrew Letter Dalet With Dagesh\"}");
}

/// RFC 8785, section 3.2.2: strings and literals. Basis: memory of the published text.
TEST(CanonicalJson, EscapesAsLittleAsPossible) {
  EXPECT_EQ(
      canonical(
          R"({"string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/", "literals": [null, true, false]})"),
      R"({"literals":[null,true,false],"string":"€$\u000f\nA'B\"\\\\\"/"})");
}

/// Where we differ from RFC 8785, and why: a reading keeps its last digit.
TEST(CanonicalJson, KeepsNumbersAsWritten) {
  EXPECT_EQ(
      canonical(R"({"a": 4.20, "b": 1E5, "c": 0.1, "d": 123456789012345678901234567890, "e": 1.0, "f": -3})"),
      R"({"a":4.20,"b":1E5,"c":0.1,"d":123456789012345678901234567890,"e":1.0,"f":-3})");
  EXPECT_EQ(canonical(R"({"a": -0})"), R"({"a":0})");
}

TEST(CanonicalJson, IsTheSameTheSecondTime) {
  const std::string once =
      canonical(R"({ "b" : [ {"z":1, "a":[]} , {} , "\u0000\u007f" ], "a" : {"": -0.0} })");
  EXPECT_EQ(once, "{\"a\":{\"\":-0.0},\"b\":[{\"a\":[],\"z\":1},{},\"\\u0000\x7f\"]}");
  EXPECT_EQ(canonical(once), once);
}

TEST(CanonicalJson, RefusesWhatIsNoObjectOrAmbiguous) {
  for (const char* text :
       {"", "[]", "1", "\"a\"", "null", "{", "{}x", "{\"a\":1,}", "{\"a\":NaN}", "{\"a\":01}",
        "{\"a\":\"\xff\"}", "{\"a\":\"\\ud800\"}", "{'a':1}", "{\"a\":1e999}"})
    EXPECT_TRUE(canonical(text).starts_with("refused: it")) << text << ": " << canonical(text);
  EXPECT_EQ(canonical(R"({"a":1,"b":2,"\u0061":3})"), "refused: it has the key \"a\" twice");
  const std::string deep = std::string(70, '[') + std::string(70, ']');
  EXPECT_EQ(canonical("{\"a\":" + deep + "}"), "refused: it is nested deeper than 64");
}

TEST(Utf8, IsToldFromWhatIsNot) {
  EXPECT_TRUE(is_utf8("Größe 45 °C 😀"));
  for (const char* text : {"\xff", "\xc0\xaf", "\xed\xa0\x80", "\xe2\x82", "\xf4\x90\x80\x80"})
    EXPECT_FALSE(is_utf8(text));
}

}  // namespace
}  // namespace firstdraw::store
