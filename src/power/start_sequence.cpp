#include "power/start_sequence.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <stdexcept>
#include <tuple>

#include "power/phases.hpp"

namespace firstdraw::power {

namespace {

constexpr double alike = 1e-9;

using Delays = std::vector<int>;  // in steps, like the circuits in order

double largest(const std::vector<double>& values) { return *std::ranges::max_element(values); }

void require(bool holds, const char* what) {
  if (!holds) throw std::logic_error(std::string("sequence_starts: ") + what);
}

void require_sound(const job::Panel& panel, std::span<const StartingCircuit> circuits,
                   const SequenceOptions& options) {
  require(options.piece_s > 0 && options.pieces_per_step > 0 && options.most_steps >= 0,
          "pieces and steps must be positive");
  require(options.limit_a > 0, "the limit must be positive");
  const std::size_t slots = phase_slots(panel).size();
  for (const StartingCircuit& circuit : circuits) {
    require(circuit.slot < slots, "the panel has no such slot");
    require(!circuit.current_a.empty(), "a circuit needs currents");
    require(std::ranges::all_of(circuit.current_a, [](double a) { return a >= 0 && std::isfinite(a); }),
            "currents must be finite and not negative");
  }
}

/// Heaviest first; what does not depend on the order given decides between equals.
std::vector<std::size_t> heaviest_first(std::span<const StartingCircuit> circuits) {
  std::vector<std::size_t> order(circuits.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::vector<double> peak_a;
  for (const StartingCircuit& circuit : circuits) peak_a.push_back(largest(circuit.current_a));
  std::ranges::stable_sort(order, [&](std::size_t i, std::size_t k) {
    const StartingCircuit &a = circuits[i], &b = circuits[k];
    if (peak_a[i] != peak_a[k]) return peak_a[i] > peak_a[k];
    return std::tie(a.slot, a.current_a, a.id) < std::tie(b.slot, b.current_a, b.id);
  });
  return order;
}

/// What the circuits switched on so far draw: each slot in each piece, and the fullest line of all pieces.
struct Loaded {
  std::vector<double> slot_a;  // [pieces][slots]
  double peak_a = 0;
};

class Sequencer {
 public:
  Sequencer(const job::Panel& panel, std::vector<const StartingCircuit*> circuits,
            const SequenceOptions& options)
      : panel_(panel), circuits_(std::move(circuits)), options_(options), slots_(phase_slots(panel).size()) {
    std::size_t longest = 1;
    for (const StartingCircuit* circuit : circuits_) longest = std::max(longest, circuit->current_a.size());
    pieces_ = longest + first_piece(options.most_steps);
  }

  Loaded nothing() const { return {std::vector<double>(pieces_ * slots_, 0.0), 0}; }

  Loaded loaded(const Delays& delays) const {
    Loaded all = nothing();
    for (std::size_t i = 0; i < circuits_.size(); ++i) add(all, *circuits_[i], delays[i]);
    return all;
  }

  std::vector<double> line_a(const Loaded& all) const {
    std::vector<double> line(pieces_);
    for (std::size_t piece = 0; piece < pieces_; ++piece)
      line[piece] = fullest_line_a(std::span(all.slot_a).subspan(piece * slots_, slots_));
    return line;
  }

  /// Whatever the delays: all circuits end up on; each has its own peak; and whichever starts last meets the
  /// others at the least they ever draw.
  double bound_a() const {
    std::vector<double> ends_a(slots_, 0.0), floors_a(slots_, 0.0);
    for (const StartingCircuit* circuit : circuits_) {
      ends_a[circuit->slot] += circuit->current_a.back();
      floors_a[circuit->slot] += *std::ranges::min_element(circuit->current_a);
    }
    double own_a = 0, last_a = std::numeric_limits<double>::infinity();
    for (const StartingCircuit* circuit : circuits_) {
      std::vector<double> alone_a(slots_, 0.0), met_a = floors_a;
      alone_a[circuit->slot] = largest(circuit->current_a);
      met_a[circuit->slot] += largest(circuit->current_a) - *std::ranges::min_element(circuit->current_a);
      own_a = std::max(own_a, fullest_line_a(alone_a));
      last_a = std::min(last_a, fullest_line_a(met_a));
    }
    return std::max({fullest_line_a(ends_a), own_a, circuits_.empty() ? 0.0 : last_a});
  }

  /// Heaviest first, each as early as the line stays within `most_a`; none when one does not fit.
  std::optional<Delays> packed(double most_a) const {
    Loaded all = nothing();
    Delays delays;
    for (const StartingCircuit* circuit : circuits_) {
      int delay = 0;
      while (delay <= options_.most_steps && peak_with(all, *circuit, delay, most_a) > most_a) ++delay;
      if (delay > options_.most_steps) return std::nullopt;
      add(all, *circuit, delay);
      delays.push_back(delay);
    }
    return delays;
  }

  Loaded with(Loaded all, std::size_t circuit, int delay) const {
    add(all, *circuits_[circuit], delay);
    return all;
  }

  /// Peak once the circuit is added; anything above `most_a` as soon as it is above.
  double peak_with(const Loaded& all, const StartingCircuit& circuit, int delay, double most_a) const {
    double peak_a = all.peak_a;
    std::vector<double> slot_a(slots_);
    for (std::size_t piece = first_piece(delay); piece < pieces_ && peak_a <= most_a; ++piece) {
      std::copy_n(all.slot_a.begin() + static_cast<std::ptrdiff_t>(piece * slots_), slots_, slot_a.begin());
      slot_a[circuit.slot] += current_a(circuit, piece - first_piece(delay));
      peak_a = std::max(peak_a, fullest_line_a(slot_a));
    }
    return peak_a;
  }

  std::size_t size() const { return circuits_.size(); }
  const StartingCircuit& circuit(std::size_t i) const { return *circuits_[i]; }
  /// Exchanging it with the one before changes nothing.
  bool twin_of_previous(std::size_t i) const {
    return i > 0 && circuits_[i]->slot == circuits_[i - 1]->slot &&
           circuits_[i]->current_a == circuits_[i - 1]->current_a;
  }

 private:
  std::size_t first_piece(int delay) const {
    return static_cast<std::size_t>(delay) * static_cast<std::size_t>(options_.pieces_per_step);
  }

  static double current_a(const StartingCircuit& circuit, std::size_t piece) {
    return circuit.current_a[std::min(piece, circuit.current_a.size() - 1)];
  }

  double fullest_line_a(std::span<const double> slot_a) const {
    return largest(line_currents_a(panel_, slot_a));
  }

  void add(Loaded& all, const StartingCircuit& circuit, int delay) const {
    all.peak_a = peak_with(all, circuit, delay, std::numeric_limits<double>::infinity());
    for (std::size_t piece = first_piece(delay); piece < pieces_; ++piece)
      all.slot_a[piece * slots_ + circuit.slot] += current_a(circuit, piece - first_piece(delay));
  }

  const job::Panel& panel_;
  std::vector<const StartingCircuit*> circuits_;
  const SequenceOptions& options_;
  std::size_t slots_, pieces_ = 0;
};

/// Depth first through all delays up to `most_delay`. A circuit more never lowers a line, so a branch ends
/// where the peak passes the bar.
class Search {
 public:
  Search(const Sequencer& panel, int most_delay, double bar_a, double enough_a, std::size_t most_trials)
      : panel_(panel), most_delay_(most_delay), bar_a_(bar_a), enough_a_(enough_a), left_(most_trials) {
    delays_.resize(panel.size());
    descend(0, panel.nothing());
  }

  const std::optional<Delays>& best() const { return best_; }
  bool complete() const { return complete_; }

 private:
  bool done() const { return enough_ || !complete_; }

  void descend(std::size_t depth, const Loaded& all) {
    if (depth == panel_.size()) return keep(all.peak_a);
    const int first = panel_.twin_of_previous(depth) ? delays_[depth - 1] : 0;
    for (int delay = first; delay <= most_delay_ && !done(); ++delay) {
      if (left_ == 0) {
        complete_ = false;
        return;
      }
      --left_;
      if (panel_.peak_with(all, panel_.circuit(depth), delay, bar_a_) > bar_a_) continue;
      delays_[depth] = delay;
      descend(depth + 1, panel_.with(all, depth, delay));
    }
  }

  void keep(double peak_a) {
    best_ = delays_;
    bar_a_ = peak_a * (1 - alike);
    enough_ = peak_a <= enough_a_ * (1 + alike);
  }

  const Sequencer& panel_;
  int most_delay_;
  double bar_a_, enough_a_;
  std::size_t left_;
  bool complete_ = true, enough_ = false;
  Delays delays_;
  std::optional<Delays> best_;
};

struct Found {
  Delays delays;
  bool proven = true;
};

/// Least peak by packing, the target halved between the bound and what is known to fit.
Delays packed_low(const Sequencer& panel, double bound_a) {
  Delays best(panel.size(), 0);
  double high_a = panel.loaded(best).peak_a, low_a = bound_a;
  for (int i = 0; i < 30 && low_a < high_a * (1 - alike); ++i) {
    const double target_a = i == 0 ? bound_a * (1 + alike) : 0.5 * (low_a + high_a);
    const auto delays = panel.packed(target_a);
    if (!delays) {
      low_a = target_a;
      continue;
    }
    best = *delays;
    high_a = panel.loaded(best).peak_a;
  }
  return best;
}

Found least_peak(const Sequencer& panel, const SequenceOptions& options, double bound_a) {
  Found found{packed_low(panel, bound_a), true};
  const double packed_a = panel.loaded(found.delays).peak_a;
  if (packed_a <= bound_a * (1 + alike)) return found;
  const Search search(panel, options.most_steps, packed_a * (1 - alike), bound_a, options.most_trials);
  if (search.best()) found.delays = *search.best();
  found.proven = search.complete();
  return found;
}

int last_start(const Delays& delays) { return delays.empty() ? 0 : *std::ranges::max_element(delays); }

/// Keeps `most_a`, as some sequence with the last start of `known` does, with the earliest last start.
Found earliest(const Sequencer& panel, const Delays& known, double most_a, std::size_t most_trials) {
  bool proven = true;
  for (int last = 0; last < last_start(known); ++last) {
    const Search search(panel, last, most_a, std::numeric_limits<double>::infinity(), most_trials);
    if (search.best()) return {*search.best(), proven};
    proven = proven && search.complete();
  }
  return {known, proven};
}

/// Within the limit where packing keeps it, else as low as can be.
Found low(const Sequencer& panel, const SequenceOptions& options, double limit_a) {
  const double bound_a = panel.bound_a();
  if (std::isfinite(limit_a) && bound_a <= limit_a)
    if (const auto delays = panel.packed(limit_a)) return {*delays, true};
  return least_peak(panel, options, bound_a);
}

/// Circuits that share no line can be sequenced apart: phases of a panel fed line to neutral.
std::vector<std::vector<std::size_t>> apart(const job::Panel& panel,
                                            const std::vector<const StartingCircuit*>& circuits) {
  std::vector<std::vector<std::size_t>> groups(panel.line_to_line ? 1 : phase_slots(panel).size());
  for (std::size_t i = 0; i < circuits.size(); ++i)
    groups[panel.line_to_line ? 0 : circuits[i]->slot].push_back(i);
  return groups;
}

Found sequence(const job::Panel& panel, const std::vector<const StartingCircuit*>& circuits,
               const SequenceOptions& options) {
  const double limit_a = options.limit_a * (1 + alike);
  const auto groups = apart(panel, circuits);
  std::vector<Sequencer> sequencers;
  std::vector<Found> known;
  double least_a = 0;
  for (const auto& group : groups) {
    std::vector<const StartingCircuit*> members;
    for (const std::size_t i : group) members.push_back(circuits[i]);
    sequencers.emplace_back(panel, std::move(members), options);
    known.push_back(low(sequencers.back(), options, limit_a));
    least_a = std::max(least_a, sequencers.back().loaded(known.back().delays).peak_a);
  }
  const bool kept = std::isfinite(limit_a) && least_a <= limit_a;
  Found found{Delays(circuits.size(), 0), true};
  for (std::size_t g = 0; g < groups.size(); ++g) {
    const Found best =
        earliest(sequencers[g], known[g].delays, kept ? limit_a : least_a * (1 + alike), options.most_trials);
    found.proven = found.proven && best.proven && (kept || known[g].proven);
    for (std::size_t i = 0; i < groups[g].size(); ++i) found.delays[groups[g][i]] = best.delays[i];
  }
  return found;
}

}  // namespace

StartSequence sequence_starts(const job::Panel& panel, std::span<const StartingCircuit> circuits,
                              const SequenceOptions& options) {
  require_sound(panel, circuits, options);
  const auto order = heaviest_first(circuits);
  std::vector<const StartingCircuit*> ordered;
  for (const std::size_t i : order) ordered.push_back(&circuits[i]);
  const Sequencer sequencer(panel, ordered, options);
  StartSequence result;
  result.bound_a = sequencer.bound_a();
  result.together_peak_a = sequencer.loaded(Delays(circuits.size(), 0)).peak_a;
  const Found found = sequence(panel, ordered, options);
  const Loaded all = sequencer.loaded(found.delays);
  result.line_a = sequencer.line_a(all);
  result.peak_a = all.peak_a;
  result.within_limit = result.peak_a <= options.limit_a * (1 + alike);
  result.proven = found.proven;
  result.start_s.resize(circuits.size());
  for (std::size_t i = 0; i < order.size(); ++i)
    result.start_s[order[i]] = found.delays[i] * options.pieces_per_step * options.piece_s;
  return result;
}

}  // namespace firstdraw::power
