#include "settings/proof.hpp"

#include <algorithm>

#include "settings/comfort_count.hpp"
#include "settings/group_limits.hpp"
#include "settings/scald.hpp"
#include "settings/standing_demand.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;

constexpr double quarter_s = 900, days_per_week = 7;

/// What the members are asked one by one, because an ensemble's sums no longer tell.
class Witness {
 public:
  explicit Witness(const job::Job& job) : job_(job), demand_(standing_demand_of(job)) {}

  void add(const draw::Scene& scene, const draw::Result& member) {
    if (members_ == 0) begin(scene, member);
    for (std::size_t r = 0; r < kept_.size(); ++r)
      kept_[r] += kept(demand_, member.runs[r], swing_of_run_k_[r]);
    for (std::size_t t = 0; t < hottest_c_.size(); ++t)
      hottest_c_[t] = std::max(hottest_c_[t], member.taps[t].hottest_c);
    for (const draw::GroupResult& group : member.groups)
      for (std::size_t q = 0; q < week_j_.size(); ++q) week_j_[q] += std::max(0.0, group.energy_j[q]);
    comfort_->add(member);
    days_ += (member.end_s - member.begin_s) / draw::day_s;
    ++members_;
  }

  const StandingDemand& demand() const { return demand_; }
  int members() const { return members_; }
  double kept_frac(std::size_t run) const { return kept_[run] / members_; }
  double nominal_below_s(std::size_t run) const { return nominal_below_s_[run]; }
  const std::vector<double>& hottest_c() const { return hottest_c_; }
  std::vector<ComfortAnswer> comfort() const { return comfort_->answers(days_); }
  std::vector<double> week_w() const {
    std::vector<double> mean_w = week_j_;
    for (double& w : mean_w) w /= quarter_s * members_;
    return mean_w;
  }

 private:
  void begin(const draw::Scene& scene, const draw::Result& nominal) {
    kept_.assign(nominal.runs.size(), 0);
    hottest_c_.assign(nominal.taps.size(), -std::numeric_limits<double>::infinity());
    for (const draw::SceneRun& run : scene.runs)
      swing_of_run_k_.push_back(run.group == draw::none ? 0 : swing_k(job_.groups.at(at(run.group))));
    for (const draw::RunResult& run : nominal.runs) nominal_below_s_.push_back(run.longest_below_s);
    if (!nominal.groups.empty()) week_j_.assign(nominal.groups.front().energy_j.size(), 0);
    comfort_.emplace(job_, scene);
  }

  const job::Job& job_;
  StandingDemand demand_;
  int members_ = 0;
  double days_ = 0;
  std::vector<double> kept_;  // members, by run of the scene
  std::vector<double> swing_of_run_k_;
  std::vector<double> nominal_below_s_, hottest_c_, week_j_;
  std::optional<ComfortCount> comfort_;
};

forecast::ForecastOptions forecast_options(const ProofOptions& options, Witness& witness) {
  forecast::ForecastOptions how;
  how.days = days_per_week;
  how.seed = options.seed;
  how.ensemble = options.members;
  how.threads = options.threads;
  how.compare = how.advise = false;  // nobody reads either here
  how.record_every_s = options.record_every_s;
  how.recorded = options.recorded;
  how.below_c = witness.demand().below_c;
  how.keep_draws = true;
  how.each_member = [&witness](std::size_t, const draw::Scene& scene, const draw::Result& member) {
    witness.add(scene, member);
  };
  how.progress = options.progress;
  return how;
}

/// `answers` are those of the scene's job runs, in its order.
std::vector<RunProof> run_proofs(const draw::Scene& scene, const std::vector<forecast::RunAnswer>& answers,
                                 const Witness& witness) {
  std::vector<RunProof> proofs;
  std::size_t next = 0;
  for (std::size_t r = 0; r < scene.runs.size(); ++r) {
    if (scene.runs[r].job_run == draw::none) continue;
    const forecast::RunAnswer& answer = answers.at(next++);
    if (scene.runs[r].group == draw::none) continue;
    RunProof proof;
    proof.run = answer.run;
    proof.lowest_c = answer.min_c;
    proof.longest_below_s = witness.nominal_below_s(r);
    proof.longest_in_band_s = answer.longest_in_band_s;
    proof.members_held_frac = witness.kept_frac(r);
    proof.log_reduction_per_week = answer.log_reduction_per_day * days_per_week;
    proofs.push_back(proof);
  }
  return proofs;
}

std::vector<GroupProof> group_proofs(const job::Job& job, const std::vector<forecast::GroupAnswer>& answers) {
  std::vector<GroupProof> proofs;
  for (std::size_t g = 0; g < answers.size(); ++g) {
    GroupProof proof;
    proof.group = job.groups.at(g).id;
    proof.kwh_per_week = answers[g].kwh_per_day * days_per_week;
    proof.on_frac = answers[g].on_frac;
    proof.switchings_per_day = answers[g].cycles_per_day;
    proof.lowest_reading_c = answers[g].lowest_reading_c;
    proof.highest_reading_c = answers[g].highest_reading_c;
    proofs.push_back(std::move(proof));
  }
  return proofs;
}

}  // namespace

Proof prove_own_week(const job::Job& job, const plan::Plan& plan, const ProofOptions& options) {
  Witness witness(job);
  Proof proof;
  proof.forecast = forecast::forecast(job, plan, forecast_options(options, witness));
  // What was called meanwhile lives in here.
  proof.forecast.options.each_member = nullptr;
  proof.forecast.options.progress = nullptr;
  proof.stopped = proof.forecast.stopped;
  if (witness.members() == 0) return proof;
  const draw::Scene& scene = proof.forecast.scene;
  proof.week_w = witness.week_w();
  proof.comfort = witness.comfort();
  proof.runs = run_proofs(scene, proof.forecast.runs, witness);
  proof.groups = group_proofs(job, proof.forecast.groups);
  proof.scald = scald_list(job, scene, witness.hottest_c());
  return proof;
}

Proof prove(const job::Job& job, const plan::Plan& plan, const Timetable& timetable,
            const ProofOptions& options) {
  return prove_own_week(with_timetable(job, timetable), plan, options);
}

}  // namespace firstdraw::settings
