// Sampling order: what runs share (duty and voltage of groups, cable batches, air of spaces) is drawn first,
// one row of samples each; then every run walks its samples alone and keeps only quantiles and counts. The
// inner loop reads rows from start to end and allocates nothing; threads share nothing but finished rows, and
// their tallies merge in any order.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <optional>
#include <stdexcept>
#include <utility>

#include "hold/draws.hpp"
#include "hold/group_drive.hpp"
#include "hold/parallel.hpp"

namespace firstdraw::hold {
namespace {

// How closely samples follow solve(): what is nearer to the limit than this holds.
constexpr double agreement_k = 1e-3;

/// Divided, not multiplied by a reciprocal: equal counts are equal shares, and all of them are exactly 1.
double share_of(std::size_t count, std::size_t samples) {
  return static_cast<double>(count) / static_cast<double>(samples);
}

/// What one thread gathers over the runs it happens to take.
struct Tally {
  std::vector<std::uint8_t> group_fails;  // [group][sample]
  Row worst_margin_k;                     // [sample], least margin seen
  std::vector<int> worst_run;             // [sample]
  Row air_c, factor, drive, water_c;      // scratch rows of the run at hand

  Tally(std::size_t groups, std::size_t samples)
      : group_fails(groups * samples, 0),
        worst_margin_k(samples, std::numeric_limits<double>::infinity()),
        worst_run(samples, -1),
        air_c(samples),
        factor(samples),
        drive(samples),
        water_c(samples) {}
};

class Study {
 public:
  Study(const Building& building, const Tolerances& tolerances, int samples, std::uint64_t seed, int threads);
  Uncertainty run();

 private:
  void follow(const HeldRun& run, Tally& tally) const;
  void judge(std::size_t index, Tally& tally);
  bool is_worse(double margin_k, int run, double than_margin_k, int than_run) const;
  void merge(const Tally& from, Tally& into) const;
  void count(const Tally& all);

  const Building& building_;
  int threads_;
  Draws draws_;
  std::vector<std::vector<int>> runs_of_group_;
  std::vector<QuickOutput> outputs_;               // like building.cables
  std::vector<std::optional<GroupDrive>> drives_;  // like building.groups
  Uncertainty out_;
};

Study::Study(const Building& building, const Tolerances& tolerances, int samples, std::uint64_t seed,
             int threads)
    : building_(building),
      threads_(std::max(1, threads)),
      draws_(building, tolerances, samples, seed),
      runs_of_group_(runs_by_group(building)),
      outputs_(building.cables.begin(), building.cables.end()),
      drives_(building.groups.size()) {
  constexpr double not_solved = std::numeric_limits<double>::quiet_NaN();
  out_.water_c.assign(building.runs.size(), {not_solved, not_solved, not_solved});
  out_.holds_prob.assign(building.runs.size(), not_solved);
  out_.first_to_fail_prob.assign(building.runs.size(), 0);
  out_.samples = samples;
  out_.seed = seed;
}

/// Water temperature of a run in every sample, into the tally's row.
void Study::follow(const HeldRun& run, Tally& tally) const {
  const GroupDrive& group = *drives_[static_cast<std::size_t>(run.group)];
  draws_.air_into(tally.air_c, run);
  draws_.insulation_into(tally.factor, run);
  const double scale = cable_scale(run);
  const QuickBalance balance(run.loss.shape(), outputs_[static_cast<std::size_t>(run.cable)],
                             {scale * group.nominal(run), run.air.usual_c, 1});
  const Row& drive = tally.drive;
  group.drive_into(tally.drive, run);
  for (std::size_t s = 0; s < drive.size(); ++s) {
    tally.water_c[s] = balance.water_c({scale * drive[s], tally.air_c[s], tally.factor[s]});
  }
}

/// The run that is farther below what its group needs; of two equally far the one with the smaller key.
bool Study::is_worse(double margin_k, int run, double than_margin_k, int than_run) const {
  if (margin_k != than_margin_k) return margin_k < than_margin_k;
  if (than_run < 0 || run < 0) return run >= 0;
  return key_of(building_.runs[static_cast<std::size_t>(run)]) <
         key_of(building_.runs[static_cast<std::size_t>(than_run)]);
}

void Study::judge(std::size_t index, Tally& tally) {
  const auto group_index = static_cast<std::size_t>(building_.runs[index].group);
  const auto& group = building_.groups[group_index];
  const double needed_c = group.maintain_c - group.hold_tolerance_k - agreement_k;
  const std::size_t samples = draws_.samples();
  const int run = static_cast<int>(index);
  std::size_t holding = 0;
  for (std::size_t s = 0; s < samples; ++s) {
    const double margin_k = tally.water_c[s] - needed_c;
    if (margin_k >= 0) {
      ++holding;
      continue;
    }
    tally.group_fails[group_index * samples + s] = 1;
    if (is_worse(margin_k, run, tally.worst_margin_k[s], tally.worst_run[s])) {
      tally.worst_margin_k[s] = margin_k;
      tally.worst_run[s] = run;
    }
  }
  out_.holds_prob[index] = share_of(holding, samples);
  out_.water_c[index] = quantiles_of(tally.water_c);
}

void Study::merge(const Tally& from, Tally& into) const {
  for (std::size_t i = 0; i < into.group_fails.size(); ++i) into.group_fails[i] |= from.group_fails[i];
  for (std::size_t s = 0; s < into.worst_run.size(); ++s) {
    if (!is_worse(from.worst_margin_k[s], from.worst_run[s], into.worst_margin_k[s], into.worst_run[s]))
      continue;
    into.worst_margin_k[s] = from.worst_margin_k[s];
    into.worst_run[s] = from.worst_run[s];
  }
}

void Study::count(const Tally& all) {
  const std::size_t samples = draws_.samples();
  std::size_t holding = 0;
  std::vector<std::size_t> first_to_fail(building_.runs.size(), 0);
  for (const int run : all.worst_run) ++(run < 0 ? holding : first_to_fail[static_cast<std::size_t>(run)]);
  out_.all_hold_prob = share_of(holding, samples);
  for (std::size_t r = 0; r < first_to_fail.size(); ++r) {
    out_.first_to_fail_prob[r] = share_of(first_to_fail[r], samples);
  }
  for (std::size_t g = 0; g < building_.groups.size(); ++g) {
    const auto fails = std::span(all.group_fails).subspan(g * samples, samples);
    out_.group_holds_prob.push_back(
        share_of(static_cast<std::size_t>(std::ranges::count(fails, 0)), samples));
  }
}

Uncertainty Study::run() {
  const Sampling sampling{building_, draws_, outputs_};
  for_each_index(threads_, drives_.size(), [&](std::size_t, std::size_t g) {
    drives_[g].emplace(sampling, static_cast<int>(g), runs_of_group_[g]);
  });
  std::vector<Tally> tallies(static_cast<std::size_t>(threads_),
                             Tally(building_.groups.size(), draws_.samples()));
  for_each_index(threads_, building_.runs.size(), [&](std::size_t thread, std::size_t r) {
    const HeldRun& held = building_.runs[r];
    if (!is_heated(held)) return;
    follow(held, tallies[thread]);
    judge(r, tallies[thread]);
  });
  for (std::size_t t = 1; t < tallies.size(); ++t) merge(tallies[t], tallies.front());
  count(tallies.front());
  return std::move(out_);
}

}  // namespace

Uncertainty uncertainty(const Building& building, const Tolerances& tolerances, int samples,
                        std::uint64_t seed, int threads) {
  if (samples < 1) throw std::invalid_argument("uncertainty needs at least one sample");
  return Study(building, tolerances, samples, seed, threads).run();
}

}  // namespace firstdraw::hold
