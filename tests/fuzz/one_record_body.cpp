// The body of a record of readings, JSON: what is accepted is written and read back to the same.
#include "fuzz_folder.hpp"
#include "fuzz_targets.hpp"
#include "prove/readings_file.hpp"

namespace firstdraw::fuzz {

int one_record_body(const std::uint8_t* data, std::size_t size) {
  const auto readings = prove::from_body(text_of(data, size));
  if (!readings) {
    if (readings.error().empty()) broken("a body that is refused has a reason");
    return 0;
  }
  const auto again = prove::from_body(prove::to_body(*readings));
  if (!again) broken("a body that was written can be read");
  if (*again != *readings) broken("a body that was written reads back to the same");
  return 0;
}

}  // namespace firstdraw::fuzz
