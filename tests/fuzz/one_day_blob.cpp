// A day of readings as bytes: what unpacks packs and unpacks again to the same.
#include <cstring>

#include "fuzz_folder.hpp"
#include "fuzz_targets.hpp"
#include "store/pack.hpp"

namespace firstdraw::fuzz {
namespace {

bool same_bits(const store::Sample& a, const store::Sample& b) {
  return a.at_ms == b.at_ms && std::memcmp(&a.value, &b.value, sizeof a.value) == 0;
}

void check_again(const std::vector<store::Sample>& samples) {
  const auto again = store::unpack(store::pack(samples));
  if (!again || again->size() != samples.size()) broken("what was packed unpacks");
  for (std::size_t i = 0; i < samples.size(); ++i)
    if (!same_bits((*again)[i], samples[i])) broken("unpacking gives what was packed, to the bit");
}

}  // namespace

int one_day_blob(const std::uint8_t* data, std::size_t size) {
  const auto samples = store::unpack(text_of(data, size));
  if (samples) check_again(*samples);
  return 0;
}

}  // namespace firstdraw::fuzz
