// Numbers in registers, in the four orders of words and bytes that occur.
#include <fmt/format.h>

#include "published.hpp"
#include "watch/register_map.hpp"
#include "within.hpp"

namespace firstdraw::reference {
namespace {

using watch::RegisterType;

std::vector<std::uint16_t> registers(const std::string& bytes_hex) {
  std::istringstream bytes(bytes_hex);
  std::vector<std::uint16_t> words;
  for (unsigned high = 0, low = 0; bytes >> std::hex >> high >> low;)
    words.push_back(static_cast<std::uint16_t>(high << 8 | low));
  return words;
}

/// "float32 CDAB", "uint32 ABCD", "int16": how such a value is described in a register map.
watch::RegisterValue described(const std::string& kind) {
  watch::RegisterValue value;
  value.quantity = "current";
  value.type = kind.starts_with("float32")  ? RegisterType::f32
               : kind.starts_with("uint32") ? RegisterType::u32
                                            : RegisterType::i16;
  const std::string order = kind.substr(kind.find(' ') + 1);
  value.high_word_first = order == "ABCD" || order == "BADC" || kind == "int16";
  value.high_byte_first = order == "ABCD" || order == "CDAB" || kind == "int16";
  return value;
}

// Source: the rows' own column: the unit tests of the Modbus library read at the commit named there, IEEE 754
// and two's complement (computed).
TEST(Modbus, PublishedVectorsOfAllOrdersAreDecoded) {
  int checked = 0;
  const auto vectors = read_published("modbus_vectors");
  for (const auto& row : vectors.rows()) {
    const std::string kind = row.text("kind");
    if (!kind.starts_with("float32") && !kind.starts_with("uint32") && kind != "int16") continue;
    const auto value = watch::decode(described(kind), registers(row.text("bytes_hex")));
    ASSERT_TRUE(value) << kind;
    EXPECT_EQ(*value, std::stod(row.text("meaning"))) << kind << ' ' << row.text("bytes_hex");
    ++checked;
  }
  EXPECT_EQ(checked, 9);
}

}  // namespace
}  // namespace firstdraw::reference
