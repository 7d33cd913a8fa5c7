// The printed load calculation: nothing is lost by saying it once, and it carries clause, basis and edition.
#include <gtest/gtest.h>

#include <random>

#include "paper/sheets.hpp"
#include "paper/sheets_load_lines.hpp"
#include "paper/test_paper.hpp"

namespace firstdraw::paper {
namespace {

const rules::Citation code{"NFPA 70 (NEC)", "2023", "210.19(A)(1)", "memory"};
const rules::Citation practice{"common practice", "", "", "common practice, no source"};

TEST(LoadLines, AlikeLinesAreSaidOnceAndUnlikeOnesApart) {
  const std::vector<plan::LoadLine> lines{{"P1", "", "Main", "40 A", "As given.", code},
                                          {"P1", "C01", "Conductor", "12 AWG", "By load.", code},
                                          {"P1", "C02", "Conductor", "10 AWG", "By drop.", code},
                                          {"P1", "C03", "Conductor", "12 AWG", "By load.", code},
                                          {"P2", "C04", "Conductor", "12 AWG", "By load.", code}};
  const auto found = load_quantities(lines, "P1", true);
  ASSERT_EQ(found.size(), 1U);
  ASSERT_EQ(found[0].statements.size(), 2U);
  EXPECT_EQ(found[0].statements[0].circuits, (std::vector<std::string>{"C01", "C03"}));
  EXPECT_EQ(found[0].statements[1].circuits, (std::vector<std::string>{"C02"}));
  EXPECT_EQ(load_quantities(lines, "P1", false).size(), 1U);
}

TEST(LoadLines, EveryLineStandsInOneStatement) {
  std::mt19937 random(7);
  std::vector<plan::LoadLine> lines;
  const auto any = [&](unsigned of) { return std::to_string(random() % of); };
  for (int line = 0; line < 500; ++line)
    lines.push_back(
        {"P1", "C" + std::to_string(line), "Q" + any(9), any(4), any(3), random() % 2 ? code : practice});
  std::size_t kept = 0;
  for (const LoadQuantity& quantity : load_quantities(lines, "P1", true))
    for (const LoadStatement& each : quantity.statements)
      for (const std::string& circuit : each.circuits) {
        const plan::LoadLine& line = lines.at(std::stoul(circuit.substr(1)));
        EXPECT_EQ(line.quantity + line.value + line.how + line.citation.clause,
                  quantity.quantity + each.value + each.how + each.citation.clause);
        ++kept;
      }
  EXPECT_EQ(kept, lines.size());
}

TEST(LoadLines, DocumentsStandOnceWithTheirEdition) {
  const std::vector<plan::LoadLine> lines{
      {"P1", "", "A", "", "", code}, {"P1", "", "B", "", "", practice}, {"P1", "C1", "C", "", "", code}};
  EXPECT_EQ(load_documents(lines, "P1"), (std::vector<std::string>{"NFPA 70 (NEC) 2023"}));
}

TEST(LoadSheet, NamesEditionClauseBasisAndTheAuthority) {
  job::Job job;
  job.panels.emplace_back();
  job.panels[0].id = "P1";
  plan::Plan plan;
  power::PanelLoad load;
  load.panel = 0;
  load.circuits = {0, 1};
  plan.panels = {load};
  plan.load = {{"P1", "", "Least main", "40 A", "1.25 times the fullest phase.", code},
               {"P1", "C01", "Conductor", "12 AWG", "The currents ask for it.", code},
               {"P1", "C02", "Conductor", "12 AWG", "The currents ask for it.", code}};
  const RiserDrawing drawing;
  const Pack pack{job, plan, drawing, Show(job)};
  TestBook book("load");
  EXPECT_EQ(book.with([&](Book& pages) { load_calculation(pages, pack); }), 1);
  const std::string text = book.text();
  for (const char* word : {"Load calculation: P1", "By NFPA 70 (NEC) 2023", "authority",
                           "jurisdiction decides", "210.19(A)(1)", "from memory", "all 2", "12 AWG"})
    EXPECT_NE(text.find(word), std::string::npos) << word << "\n" << text;
}

}  // namespace
}  // namespace firstdraw::paper
