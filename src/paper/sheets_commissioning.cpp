// The commissioning summary: what was tested, what passed, what is open, with whose instruments, and who
// signs for it.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "paper/field_words.hpp"
#include "paper/sheets.hpp"

namespace firstdraw::paper {
namespace {

constexpr prove::Stage stages[] = {prove::Stage::on_receipt, prove::Stage::fixed,
                                   prove::Stage::insulated,  prove::Stage::before_energising,
                                   prove::Stage::energised,  prove::Stage::periodic};

struct Tally {
  int due = 0, done = 0;
  prove::Grade worst = prove::Grade::pass;
  void add(const prove::Due& test) {
    ++due;
    if (!test.grade) return;
    ++done;
    worst = worse(worst, *test.grade);
  }
};

/// "3 of 4" with the worst grade among them; a dash where nothing is asked.
std::string tally_text(const Tally& tally) {
  if (tally.due == 0) return "–";
  if (tally.done == 0) return fmt::format("0 of {}", tally.due);
  return fmt::format("{} of {}\n{}", tally.done, tally.due, grade_text(tally.worst));
}

Table by_circuit(const Pack& pack) {
  Table table;
  table.columns = {{"Circuit", ""}};
  for (const prove::Stage stage : stages) table.columns.push_back({stage_text(stage), ""});
  for (const power::Circuit& circuit : pack.plan.circuits) {
    Row row{Row::Kind::plain, {circuit.id}};
    for (const prove::Stage stage : stages) {
      Tally tally;
      for (const prove::Due& test : pack.field->due)
        if (test.circuit == circuit.id && test.stage == stage && !test.looked_at) tally.add(test);
      row.cells.push_back(tally_text(tally));
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

std::string place_text(const prove::Reading& reading) {
  if (!reading.circuit.empty()) return "circuit " + reading.circuit;
  if (!reading.run.empty()) return reading.run;
  return reading.group.empty() ? "–" : "group " + reading.group;
}

Table open_verdicts(const Pack& pack) {
  Table table;
  table.columns = {{"Where", ""}, {"Reading", ""}, {"", ""}, {"Suspect", ""}, {"Do", ""}, {"Record", ""}};
  for (const prove::Grade grade : {prove::Grade::fail, prove::Grade::doubt})
    for (const prove::Verdict& verdict : pack.field->verdicts) {
      if (verdict.grade != grade) continue;
      const prove::Reading& reading = pack.field->readings.at(verdict.reading);
      table.rows.push_back({Row::Kind::plain,
                            {place_text(reading), verdict.said, grade_text(grade), verdict.suspect,
                             verdict.to_do, fmt::format("{}", pack.field->record_of.at(verdict.reading))}});
    }
  return table;
}

void open_points(Book& book, const Pack& pack) {
  const Table table = open_verdicts(pack);
  heading(book, "Readings that did not pass", 24);
  if (table.rows.empty())
    paragraph(book, "None: every recorded reading passed.");
  else
    flow(book, table);
}

void moving(Book& book, const Pack& pack) {
  if (pack.field->trends.empty()) return;
  heading(book, "Readings that move", 24);
  Table table;
  table.columns = {{"Circuit", ""}, {"What", ""}, {"Suspect", ""}, {"Do", ""}};
  for (const prove::Trend& trend : pack.field->trends)
    table.rows.push_back({Row::Kind::plain, {trend.circuit, trend.said, trend.suspect, trend.to_do}});
  flow(book, table);
}

void instruments(Book& book, const Pack& pack) {
  std::map<std::string, std::set<std::string>> used;
  for (const prove::Reading& reading : pack.field->readings)
    used[instrument_text(reading.instrument)].insert(what_text(reading.what));
  if (used.empty()) return;
  heading(book, "Instruments", 20);
  Table table;
  table.columns = {{"Instrument", ""}, {"Used for", ""}};
  for (const auto& [instrument, readings] : used) {
    std::string list;
    for (const std::string& what : readings) list += (list.empty() ? "" : ", ") + what;
    table.rows.push_back({Row::Kind::plain, {instrument.empty() ? "! not named" : instrument, list}});
  }
  flow(book, table);
}

int graded(const Pack& pack, prove::Grade grade) {
  return static_cast<int>(std::ranges::count(pack.field->verdicts, grade, &prove::Verdict::grade));
}

void figures(Book& book, const Pack& pack) {
  // What recurs every year is no part of commissioning.
  int due = 0, done = 0;
  for (const prove::Due& test : pack.field->due) {
    if (test.stage == prove::Stage::periodic || test.looked_at) continue;
    ++due;
    done += test.reading ? 1 : 0;
  }
  key_figures(book, {{"Tests answered, of those due before hand-over", fmt::format("{} of {}", done, due)},
                     {"Readings that passed", fmt::format("{}", graded(pack, prove::Grade::pass))},
                     {"In doubt · failed", fmt::format("{} · {}", graded(pack, prove::Grade::doubt),
                                                       graded(pack, prove::Grade::fail))}});
  if (graded(pack, prove::Grade::fail) > 0)
    caution(book, "A reading failed",
            "Do not hand over, and do not leave energised, before it is settled and measured again. The new "
            "reading is a new record; the old one stays.");
}

void results(Book& book, const Pack& pack) {
  figures(book, pack);
  heading(book, "Tests by circuit and stage", 30);
  paragraph(book,
            "Answered, of those due, with the worst verdict among them. Tests that are only looked at are "
            "on the field-test sheets.",
            small_style);
  flow(book, by_circuit(pack));
  open_points(book, pack);
  moving(book, pack);
  instruments(book, pack);
}

struct Role {
  const char *title, *statement;
};
constexpr Role roles[] = {
    {"Installer", "The cable is fitted, insulated and labelled as the installation sheets say."},
    {"Electrician who commissions", "The tests were made as recorded, by me or under my eyes."},
    {"Owner’s representative", "Received with operating instructions, cautions and this pack."},
    {"Inspector", "Seen. The authority having jurisdiction decides."},
};

/// Sign-offs that are records already.
void signed_on_record(Book& book, const Pack& pack) {
  Table table;
  table.columns = {{"Role", ""}, {"Name", ""}, {"When", ""}, {"Statement", ""}, {"Record", "", Anchor::end}};
  for (const store::Record& record : pack.field->records) {
    if (record.kind != store::RecordKind::sign_off || is_corrected(pack.field->records, record.number))
      continue;
    const auto body = nlohmann::json::parse(record.body, nullptr, false);
    const auto word = [&body](const char* key) {
      return body.is_object() && body.contains(key) && body[key].is_string() ? body[key].get<std::string>()
                                                                             : "";
    };
    table.rows.push_back({Row::Kind::plain,
                          {word("role"), record.who, moment_text(record.at), word("statement"),
                           fmt::format("{}", record.number)}});
  }
  if (table.rows.empty()) return;
  heading(book, "Signed on record", 24);
  flow(book, table);
}

void signatures(Book& book) {
  heading(book, "Signatures", 60);
  for (const Role& role : roles) {
    book.need(22);
    paragraph(book, fmt::format("{}: {}", role.title, role.statement), small_style);
    writing_boxes(book, {"Name, company, licence", "Signature", "Date"}, 3, 11);
  }
}

}  // namespace

void commissioning_summary(Book& book, const Pack& pack) {
  part(book, "Commissioning summary");
  if (pack.field && !pack.field->readings.empty())
    results(book, pack);
  else
    paragraph(book,
              "No reading is recorded yet: the field-test sheets are blank, to be filled in on site. "
              "Readings that are entered with “firstdraw record” appear here, each with its verdict.");
  if (pack.field) signed_on_record(book, pack);
  signatures(book);
  recorded(book, pack);
}

}  // namespace firstdraw::paper
