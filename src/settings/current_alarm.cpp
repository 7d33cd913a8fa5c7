#include "settings/current_alarm.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "plan/expect.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;

struct Band {
  double least_a = 0, most_a = 0;
};

Band band_of(const job::Job& job, const plan::Plan& plan, int circuit, const OrdinaryGroup& ordinary) {
  const power::Circuit& fed = plan.circuits[at(circuit)];
  const job::Panel& panel = job.panels[at(fed.panel)];
  const double feed_v = fed.steady && fed.feed_v > 0 ? fed.feed_v : panel.voltage_v;
  const double pipe_c[] = {ordinary.coldest_c, ordinary.hottest_c};
  const double volts[] = {panel.low_frac * feed_v, panel.high_frac * feed_v};
  const auto table = plan::expected_currents(job, plan, circuit, {pipe_c, volts});
  return {table.at(2).least_a, table.at(1).most_a};  // voltages change fastest
}

}  // namespace

GroupCurrent group_current(const job::Job& job, const plan::Plan& plan, int group,
                           const OrdinaryGroup& ordinary) {
  GroupCurrent current;
  double most_a = 0;
  std::vector<double> each_most_a;
  for (std::size_t c = 0; c < plan.circuits.size(); ++c) {
    if (plan.circuits[c].group != group) continue;
    const Band band = band_of(job, plan, static_cast<int>(c), ordinary);
    current.circuits.push_back(static_cast<int>(c));
    current.least_a += band.least_a;
    most_a += band.most_a;
    each_most_a.push_back(band.most_a);
  }
  for (const double alone_a : each_most_a) current.most_without_a.push_back(most_a - alone_a);
  return current;
}

std::optional<Alarm> current_alarm(const GroupCurrent& current) {
  if (!(current.least_a > 0)) return std::nullopt;
  double below_a = 0;
  for (const double without_a : current.most_without_a)
    if (without_a < current.least_a) below_a = std::max(below_a, without_a);
  Alarm alarm;
  alarm.kind = Alarm::Kind::low_current;
  alarm.limit = (current.least_a + below_a) / 2;
  alarm.delay_s = current_delay_s;
  alarm.worst_ordinary = current.least_a;
  return alarm;
}

bool tells_lost(const GroupCurrent& current, const Alarm& alarm, std::size_t circuit) {
  return current.most_without_a.at(circuit) < alarm.limit;
}

}  // namespace firstdraw::settings
