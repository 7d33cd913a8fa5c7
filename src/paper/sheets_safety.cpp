// Assumptions, findings, cautions and sources.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "paper/week_words.hpp"

namespace firstdraw::paper {
namespace {

std::string severity_heading(plan::Severity severity) {
  switch (severity) {
    case plan::Severity::stop:
      return "Stop: do not build before this is resolved";
    case plan::Severity::fix:
      return "Fix: resolve before hand-over";
    case plan::Severity::note:
      return "Note: know and decide";
  }
  return "";
}

void open_findings(Book& book, const Pack& pack) {
  Table table;
  table.columns = {{"Where", ""}, {"What is wrong", ""}, {"What to do", ""}, {"Source", ""}};
  const std::vector<plan::Finding> all = all_findings(pack);
  for (const auto severity : {plan::Severity::stop, plan::Severity::fix, plan::Severity::note}) {
    bool first = true;
    for (const plan::Finding& finding : all) {
      if (finding.severity != severity || finding.accepted) continue;
      if (first) table.rows.push_back({Row::Kind::group, {severity_heading(severity)}});
      first = false;
      table.rows.push_back({Row::Kind::plain,
                            {place_name(finding) + "\n" + finding.id, finding.what, finding.todo,
                             citation_text(finding.citation)}});
    }
  }
  if (table.rows.empty())
    paragraph(book, "No finding is open.");
  else
    flow(book, table);
}

void accepted_findings(Book& book, const Pack& pack) {
  Table table;
  table.columns = {{"Where", ""},       {"What is wrong", ""}, {"Severity", ""},
                   {"Accepted by", ""}, {"Date", ""},          {"Reason", ""}};
  for (const plan::Finding& finding : all_findings(pack))
    if (finding.accepted)
      table.rows.push_back(
          {Row::Kind::plain,
           {place_name(finding) + "\n" + finding.id, finding.what, plan::to_string(finding.severity),
            finding.accepted_by, finding.accepted_date, finding.accepted_reason}});
  if (table.rows.empty()) return;
  heading(book, "Accepted by name", 24);
  paragraph(book, "These stand as they are: the person named has taken them on, for the reason given.",
            small_style);
  flow(book, table);
}

std::string seconds(double duration_s) {
  if (!std::isfinite(duration_s)) return "–";
  if (duration_s >= 3600) return fmt::format("{:.3g} h", duration_s / 3600);
  if (duration_s >= 60) return fmt::format("{:.3g} min", duration_s / 60);
  return fmt::format("{:.3g} s", duration_s);
}

void burn_table(Book& book, const Pack& pack) {
  Table table;
  table.columns = {{"Water on the skin", pack.show.unit(Kind::temperature), Anchor::end},
                   {"Second-degree burn after", "", Anchor::end},
                   {"Third-degree burn after", "", Anchor::end}};
  table.full_width = false;
  std::string source;
  for (const rules::BurnTime& burn : rules::burn_times()) {
    table.rows.push_back({Row::Kind::plain,
                          {pack.show.number(burn.water_c, Kind::temperature), seconds(burn.second_degree_s),
                           seconds(burn.third_degree_s)}});
    const std::string citation = citation_text(burn.citation);
    if (source.find(citation) == std::string::npos) source += (source.empty() ? "" : "; ") + citation;
  }
  flow(book, table);
  paragraph(book, "Adult skin. Source: " + source + ".", small_style);
}

std::string lowest_text(const Pack& pack) {
  const auto lowest = lowest_set_point(pack);
  if (!lowest) return "";
  if (lowest->off)
    return fmt::format(" Group {} is off at times in this job: its pipes then cool through that band.",
                       lowest->group);
  const rules::GrowthBand band = rules::growth_band();
  const bool inside = lowest->temp_c >= band.low_c && lowest->temp_c <= band.high_c;
  return fmt::format(
      " The lowest {} in this job is {} (group {}), {} that band.", has_week(pack) ? "set-point" : "setback",
      pack.show.with_unit(lowest->temp_c, Kind::temperature), lowest->group, inside ? "inside" : "outside");
}

void hygiene_caution(Book& book, const Pack& pack) {
  const rules::GrowthBand band = rules::growth_band();
  const auto guideline = rules::find_guideline(pack.job.requirements.guideline);
  std::string text = fmt::format(
      "Legionella multiplies in water between about {} and {} ({}).{} Heat alone does not make a system "
      "safe: stored water, "
      "dead ends, unused outlets and the untraced pipe to the tap count as much. Keep the records that the "
      "building's water "
      "management plan asks for.",
      pack.show.with_unit(band.low_c, Kind::temperature), pack.show.with_unit(band.high_c, Kind::temperature),
      citation_text(band.citation), lowest_text(pack));
  if (guideline && guideline->id != "none") {
    text += fmt::format(" Guidance in force: {}", guideline->name);
    if (std::isfinite(guideline->stored_c))
      text += fmt::format("; stored at {}", pack.show.with_unit(guideline->stored_c, Kind::temperature));
    if (std::isfinite(guideline->distributed_c))
      text += fmt::format("; distributed at {}",
                          pack.show.with_unit(guideline->distributed_c, Kind::temperature));
    text += ".";
  }
  caution(book, "Bacteria in lukewarm water", text);
  paragraph(book,
            "Hygiene wants hot water, skin wants cooler water, and energy codes may want maintenance off "
            "when nobody draws. "
            "This pack shows all three; the responsible person decides, usually with safe-outlet valves at "
            "the taps.");
}

std::string trip_text(const Pack& pack) {
  const rules::GroundFault fault = rules::ground_fault(pack.job.requirements.rules);
  return fmt::format("{:.0f} mA ({})", fault.trip_a * 1000, citation_text(fault.citation));
}

void cable_sheets(Book& book, const Pack& pack) {
  std::vector<std::string> sheets;
  for (const physics::CableSheet& sheet : pack.job.cables)
    sheets.push_back(fmt::format("{}: {}", sheet.name.empty() ? sheet.id : sheet.name, sheet.source));
  if (sheets.empty()) return;
  heading(book, "Cable data sheets");
  bullets(book, sheets);
}

}  // namespace

void assumptions(Book& book, const Pack& pack) {
  part(book, "Assumptions");
  paragraph(book,
            "What the job did not say and the plan therefore assumed. Check each; write the true value into "
            "the job where it differs.",
            small_style);
  if (pack.plan.assumptions.empty() && (!pack.forecast || pack.forecast->assumptions.empty()) &&
      (!pack.week || pack.week->assumptions.empty())) {
    paragraph(book, "None: the job gives every value.");
    return;
  }
  Table table;
  table.columns = {{"Field", ""}, {"Assumed", ""}, {"Why", ""}};
  const auto add = [&](const std::vector<job::Assumption>& all) {
    for (const job::Assumption& each : all)
      table.rows.push_back({Row::Kind::plain, {each.field, each.value, each.why}});
  };
  add(pack.plan.assumptions);
  if (pack.forecast && !pack.forecast->assumptions.empty()) {
    table.rows.push_back({Row::Kind::group, {"First draw: what the simulation assumed"}});
    add(pack.forecast->assumptions);
  }
  if (pack.week && !pack.week->assumptions.empty()) {
    table.rows.push_back(
        {Row::Kind::group, {"The week: how the tariff was understood, and what was taken for granted"}});
    add(pack.week->assumptions);
  }
  flow(book, table);
}

void findings(Book& book, const Pack& pack) {
  part_following(book, "Findings");
  open_findings(book, pack);
  accepted_findings(book, pack);
}

void cautions(Book& book, const Pack& pack) {
  part_following(book, "Cautions", 170);
  caution(book, "Mains voltage",
          "The cable's braid, the pipe and every metal enclosure must be earthed and bonded. Self-regulating "
          "cable is live "
          "along its whole length; cutting it does not switch it off. Never join the two bus wires together: "
          "at the far end "
          "they stay apart under the end seal.");
  caution(book, "De-energise, lock out, prove dead",
          "Before any work on cable, pipe or insulation: open the circuit, lock and tag it, and prove dead "
          "at the place of "
          "work with a tester that was itself proved just before and after. More than one circuit may feed a "
          "pipe: check the "
          "riser drawing. A controller that is off is not an isolation.");
  caution(book, "Fire and arcing faults",
          "A damaged cable can arc and burn without tripping an ordinary breaker. Every heating-cable "
          "circuit needs "
          "ground-fault protection of equipment, tripping at " +
              trip_text(pack) +
              ". The personnel kind (about 5 mA) trips on the cable's own leakage and is not meant for this. "
              "If the "
              "device trips, find the fault; do not reset it twice. Damaged cable is replaced, never taped.");
  caution(book, "Insulation resistance tests",
          "The test voltage is dangerous and the cable stores charge: warn others, keep hands off, discharge "
          "before touching. "
          "Disconnect electronic controllers and sensors first. Test between both bus wires together and the "
          "braid, on the "
          "reel, after fixing, after insulating and before energising: a reading that falls between two "
          "stages says what "
          "was done to the cable in between. Wet ends read low: dry, cut back, repeat.");
  caution(book, "Scalding",
          "Water held for hygiene is hot enough to burn. Children, old people and people who cannot feel or "
          "move away burn "
          "in a fraction of the times below. Where an outlet may exceed its limit, fit a safe-outlet "
          "(thermostatic) valve "
          "at the point of use. Run every outlet and measure before hand-over.");
  burn_table(book, pack);
  hygiene_caution(book, pack);
}

void sources(Book& book, const Pack& pack) {
  part_following(book, "Sources", 70);
  paragraph(book,
            "Every requirement and published value that this plan used. “From memory” marks what has not "
            "been read in the "
            "document itself: confirm it there before relying on it.",
            small_style);
  cable_sheets(book, pack);
  heading(book, "Documents", 30);
  Table table;
  table.columns = {{"Document", ""}, {"Edition", ""}, {"Clause", ""}, {"Basis", ""}};
  std::vector<rules::Citation> cited = pack.plan.sources;
  const auto add = [&](const std::vector<rules::Citation>& more) {
    for (const rules::Citation& each : more)
      if (std::ranges::find(cited, each.text(), &rules::Citation::text) == cited.end()) cited.push_back(each);
  };
  if (pack.forecast) add(pack.forecast->sources);
  if (pack.week) add(pack.week->sources);
  for (const rules::Citation& each : cited)
    table.rows.push_back({Row::Kind::plain, {each.document, each.edition, each.clause, each.basis}});
  flow(book, table);
}

}  // namespace firstdraw::paper
