// A register map: read strictly; what is accepted can be asked for and decoded.
#include "fuzz_folder.hpp"
#include "fuzz_targets.hpp"
#include "watch/poll_requests.hpp"
#include "watch/register_map.hpp"

namespace firstdraw::fuzz {
namespace {

job::Job some_job() {
  job::Job job;
  job.groups.emplace_back().id = "main";
  job.runs.emplace_back().id = "R-01";
  job.outlets.emplace_back().id = "O-01";
  return job;
}

void check_requests(const watch::Device& device, std::uint64_t raw) {
  std::size_t asked = 0;
  for (const auto& request : watch::requests_of(device)) {
    const bool bits =
        request.table == watch::RegisterTable::coil || request.table == watch::RegisterTable::discrete;
    if (request.first < 0 || request.count < 1 || request.first + request.count > 65536)
      broken("a request stays within the table");
    if (request.count > (bits ? 2000 : 125)) broken("a request asks for no more than the protocol has");
    const std::vector<std::uint16_t> answer(static_cast<std::size_t>(request.count),
                                            static_cast<std::uint16_t>(raw));
    for (const auto* value : request.values) {
      const auto own = watch::registers_in(answer, device, request, *value);
      if (own.size() != static_cast<std::size_t>(watch::registers_of(value->type)))
        broken("every value's registers are in its request");
      watch::decode(*value, own);
      ++asked;
    }
  }
  if (asked != device.values.size()) broken("every value is asked for once");
}

}  // namespace

int one_register_map(const std::uint8_t* data, std::size_t size) {
  static const job::Job job = some_job();
  const std::string circuits[]{"C01"};
  const auto map = watch::read_register_map(text_of(data, size), "map.toml", job, circuits);
  if (!map) {
    if (map.error().empty()) broken("a map that is refused has a reason");
    for (const auto& problem : map.error()) static_cast<void>(problem.text());
    return 0;
  }
  for (const auto& device : map->devices) check_requests(device, size * 2654435761U);
  return 0;
}

}  // namespace firstdraw::fuzz
