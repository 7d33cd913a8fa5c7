#include "score.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <cmath>

#include "plan/run_classes.hpp"

namespace firstdraw::bench {
namespace {

using prove::Cause;

std::string_view id_of(Cause cause) {
  return std::ranges::find(prove::cause_help(), cause, &prove::CauseHelp::cause)->id;
}

std::size_t rank_of(const prove::Diagnosis& diagnosis, Cause cause) {
  for (std::size_t i = 0; i < diagnosis.suspects.size(); ++i)
    if (diagnosis.suspects[i].cause == cause) return i;
  return diagnosis.suspects.size();
}

double share(double part, double whole) { return whole > 0 ? part / whole : 0; }

double median(std::vector<double> values) {
  std::erase_if(values, [](double value) { return std::isnan(value); });
  if (values.empty()) return std::nan("");
  std::ranges::sort(values);
  return values[values.size() / 2];
}

struct Bin {
  int count = 0, right = 0;
  double stated = 0;
};
using Bins = std::array<Bin, 10>;

void add_to(Bins& bins, const prove::Diagnosis& diagnosis, Cause truth) {
  for (const prove::Suspect& suspect : diagnosis.suspects) {
    Bin& bin = bins[std::min<std::size_t>(9, static_cast<std::size_t>(10 * suspect.probability))];
    ++bin.count;
    bin.right += suspect.cause == truth;
    bin.stated += suspect.probability;
  }
}

void print_bins(const char* title, const Bins& bins, std::ostream& out) {
  fmt::print(out, "\n{}\n\n| stated | statements | mean stated | came true |\n| --- | --- | --- | --- |\n",
             title);
  for (std::size_t b = 0; b < bins.size(); ++b)
    fmt::print(out, "| {}–{} % | {} | {:.1f} % | {:.1f} % |\n", 10 * b, 10 * b + 10, bins[b].count,
               100 * share(bins[b].stated, bins[b].count), 100 * share(bins[b].right, bins[b].count));
}

void print_confusion(const std::vector<Visit>& visits, std::ostream& out) {
  fmt::print(out,
             "\nBy cause\n\n| planted | jobs | first | in three | after the complaint: first | measurements "
             "| taken for |\n"
             "| --- | --- | --- | --- | --- | --- | --- |\n");
  for (const prove::CauseHelp& help : prove::cause_help()) {
    int jobs = 0, first = 0, three = 0, at_once = 0;
    double measurements = 0;
    std::map<std::string_view, int> others;
    for (const Visit& visit : visits) {
      if (visit.planted.cause != help.cause) continue;
      ++jobs;
      const std::size_t rank = rank_of(visit.last, help.cause);
      first += rank == 0;
      three += rank < 3;
      at_once += rank_of(visit.each.front(), help.cause) == 0;
      measurements += static_cast<double>(visit.until_right);
      if (rank != 0) ++others[id_of(visit.last.suspects.front().cause)];
    }
    if (jobs == 0) continue;
    std::string text;
    for (const auto& [id, count] : others)
      text += fmt::format("{}{} {}", text.empty() ? "" : ", ", id, count);
    fmt::print(out, "| {} | {} | {:.0f} % | {:.0f} % | {:.0f} % | {:.1f} | {} |\n", help.id, jobs,
               100 * share(first, jobs), 100 * share(three, jobs), 100 * share(at_once, jobs),
               measurements / jobs, text);
  }
}

void print_sizes(const std::vector<Visit>& visits, std::ostream& out) {
  fmt::print(out,
             "\nWhere and how much, of causes named rightly\n\n| cause | jobs | place right | median error "
             "of place, m | "
             "median error of size | truth inside 5–95 % |\n| --- | --- | --- | --- | --- | --- |\n");
  for (const prove::CauseHelp& help : prove::cause_help()) {
    std::vector<double> place, size;
    int jobs = 0, right = 0, inside = 0, valued = 0;
    for (const Visit& visit : visits) {
      if (visit.planted.cause != help.cause || visit.last.suspects.front().cause != help.cause) continue;
      ++jobs;
      right += visit.place_right;
      place.push_back(visit.location_error_m);
      size.push_back(visit.size_error);
      if (visit.last.suspects.front().value) {
        ++valued;
        inside += visit.inside;
      }
    }
    if (jobs == 0) continue;
    const double metres = median(place), off = median(size);
    fmt::print(out, "| {} | {} | {:.0f} % | {} | {} | {} |\n", help.id, jobs, 100 * share(right, jobs),
               std::isnan(metres) ? "–" : fmt::format("{:.1f}", metres),
               std::isnan(off) ? "–" : fmt::format("{:.0f} %", 100 * off),
               valued == 0 ? "–" : fmt::format("{:.0f} %", 100 * share(inside, valued)));
  }
}

}  // namespace

Score print(const std::vector<Visit>& visits, std::ostream& out) {
  Score score;
  score.jobs = static_cast<int>(visits.size());
  const double jobs = score.jobs;
  Bins last{}, first{};
  double seconds = 0, calls = 0, minutes = 0, valued = 0;
  for (const Visit& visit : visits) {
    const Cause truth = visit.planted.cause;
    score.top1 += rank_of(visit.last, truth) == 0;
    score.top3 += rank_of(visit.last, truth) < 3;
    score.first_top1 += rank_of(visit.each.front(), truth) == 0;
    score.first_top3 += rank_of(visit.each.front(), truth) < 3;
    score.checklist_top1 += visit.checklist_top == truth;
    score.measurements += static_cast<double>(visit.until_right);
    score.by_checklist += static_cast<double>(visit.until_right_by_checklist);
    if (visit.last.settled) {
      ++score.settled;
      score.settled_right += rank_of(visit.last, truth) == 0;
    }
    double stated = 1e-6;
    for (const prove::Suspect& suspect : visit.last.suspects) {
      const double came = suspect.cause == truth ? 1 : 0;
      score.brier += (suspect.probability - came) * (suspect.probability - came);
      if (came > 0) stated = std::max(stated, suspect.probability);
    }
    score.log_loss -= std::log2(stated);
    add_to(last, visit.last, truth);
    for (const auto& one : visit.each) add_to(first, one, truth);
    minutes += visit.minutes;
    seconds += visit.seconds;
    calls += static_cast<double>(visit.each.size());
    if (rank_of(visit.last, truth) == 0 && visit.last.suspects.front().value) {
      ++valued;
      score.inside += visit.inside;
    }
  }
  for (double* one : {&score.top1, &score.top3, &score.first_top1, &score.first_top3, &score.checklist_top1,
                      &score.brier, &score.log_loss, &score.measurements, &score.by_checklist})
    *one /= jobs;
  score.settled_right = share(score.settled_right, score.settled);
  score.settled /= jobs;
  score.inside = share(score.inside, valued);
  fmt::print(out,
             "| of {} jobs | complaint alone | after at most {} measurements | the checklist's |\n| --- | "
             "--- | --- | --- |\n",
             score.jobs, most_measurements);
  fmt::print(out, "| right cause first | {:.1f} % | {:.1f} % | {:.1f} % |\n", 100 * score.first_top1,
             100 * score.top1, 100 * score.checklist_top1);
  fmt::print(out, "| right cause in the first three | {:.1f} % | {:.1f} % | |\n", 100 * score.first_top3,
             100 * score.top3);
  fmt::print(
      out, "| measurements until the right cause has even odds or better (7: never) | | {:.2f} | {:.2f} |\n",
      score.measurements, score.by_checklist);
  fmt::print(out, "| settled (0.9 or more); of these right | | {:.1f} %; {:.1f} % | |\n", 100 * score.settled,
             100 * score.settled_right);
  fmt::print(out, "| Brier score (0 best, 2 worst); bits | | {:.3f}; {:.2f} | |\n", score.brier,
             score.log_loss);
  fmt::print(out, "| unknown inside its 5–95 % | | {:.1f} % | |\n", 100 * score.inside);
  fmt::print(out, "| minutes of work; seconds of one diagnosis | | {:.0f}; {:.3f} | |\n", minutes / jobs,
             seconds / calls);
  print_bins("Stated against came true, after the last measurement", last, out);
  print_bins("The same over all steps", first, out);
  print_confusion(visits, out);
  print_sizes(visits, out);
  return score;
}

void print_two(const std::vector<Visit>& visits, std::ostream& out) {
  double first = 0, three = 0, both = 0, settled = 0, settled_right = 0, nothing = 0, none = 0, steps = 0;
  std::map<std::pair<std::string_view, std::string_view>, int> missed;
  for (const Visit& visit : visits) {
    const std::size_t a = rank_of(visit.last, visit.planted.cause), b = rank_of(visit.last, *visit.second);
    const bool right = std::min(a, b) == 0;
    first += right;
    three += std::min(a, b) < 3;
    both += std::max(a, b) < 3;
    steps += static_cast<double>(visit.until_right);
    const Cause top = visit.last.suspects.front().cause;
    nothing += top == Cause::nothing;
    none += top == Cause::none_of_these;
    settled += visit.last.settled;
    settled_right += visit.last.settled && right;
    if (!right) ++missed[{id_of(visit.planted.cause), id_of(*visit.second)}];
  }
  const double jobs = static_cast<double>(visits.size());
  fmt::print(out, "| of {} jobs with two things wrong | |\n| --- | --- |\n", visits.size());
  fmt::print(out, "| one of the two first | {:.0f} % |\n| one of the two in the first three | {:.0f} % |\n",
             100 * share(first, jobs), 100 * share(three, jobs));
  fmt::print(out, "| both in the first three | {:.0f} % |\n", 100 * share(both, jobs));
  fmt::print(out, "| first: \"nothing\"; \"none of these\" | {:.0f} %; {:.0f} % |\n",
             100 * share(nothing, jobs), 100 * share(none, jobs));
  fmt::print(out, "| settled (0.9 or more); of these one of the two | {:.0f} %; {:.0f} % |\n",
             100 * share(settled, jobs), 100 * share(settled_right, settled));
  fmt::print(out, "| measurements until one of the two has even odds or better (7: never) | {:.2f} |\n",
             share(steps, jobs));
  std::string text;
  for (const auto& [pair, count] : missed)
    text += fmt::format("{}{} with {}", text.empty() ? "" : ", ", pair.first, pair.second);
  fmt::print(out, "\nNeither first: {}.\n", text.empty() ? "none" : text);
}

}  // namespace firstdraw::bench
