// How the pack lies on its pages: one sheet of paper per field test, no page with a few stray lines.
#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "pack_tools.hpp"

namespace firstdraw::golden {
namespace {

struct Case {
  std::string name, example, paper;
  units::System units = units::System::us;
};
void PrintTo(const Case& each, std::ostream* out) { *out << each.name; }

class PackLayout : public testing::TestWithParam<Case> {
 protected:
  void SetUp() override {
    job_ = example(GetParam().example);
    job_.paper = GetParam().paper;
    job_.units = GetParam().units;
    const PackFolder folder("layout-" + GetParam().name);
    plan_ = planned(job_);
    const forecast::Forecast forecast = simulated(job_, plan_);
    const auto written = paper::write_pack(job_, plan_, folder.path(), {}, {.forecast = &forecast});
    ASSERT_TRUE(written) << written.error().front().text();
    std::istringstream all(output_of("pdftotext -layout '" + folder.file("hand-over.pdf") + "' -"));
    for (std::string page; std::getline(all, page, '\f');)
      if (!page.empty()) pages_.push_back(page);
    ASSERT_GT(pages_.size(), 10U);
  }

  job::Job job_;
  plan::Plan plan_;
  std::vector<std::string> pages_;
};

TEST_P(PackLayout, TheFieldTestsOfACircuitAreOneSheetOfPaper) {
  for (const power::Circuit& circuit : plan_.circuits) {
    const std::string footer = "Hand-over pack · Field tests: circuit " + circuit.id + "\n";
    int count = 0;
    for (const std::string& page : pages_) {
      if (page.find(footer) == std::string::npos) continue;
      ++count;
      EXPECT_NE(page.find("Witnessed by"), std::string::npos) << circuit.id;
      EXPECT_NE(page.find("Signature"), std::string::npos) << circuit.id;
    }
    EXPECT_EQ(count, 1) << circuit.id;
  }
}

// Lines of a page between its header and its footer.
int body_lines(const std::string& page) {
  int lines = 0;
  std::istringstream stream(page);
  for (std::string line; std::getline(stream, line);)
    if (line.find_first_not_of(' ') != std::string::npos) ++lines;
  constexpr int header = 1, footer = 2;
  return lines - header - footer;
}

TEST_P(PackLayout, NoPageHasOnlyAFewStrayLines) {
  for (const std::string& page : pages_) {
    const bool drawing = page.find("Hand-over pack · Riser drawing") != std::string::npos ||
                         page.find("Hand-over pack · First draw: riser drawing") != std::string::npos;
    EXPECT_TRUE(drawing || body_lines(page) >= 8) << page;
  }
}

TEST_P(PackLayout, EveryGroupsInstallationSheetIsTwoPages) {
  for (const job::ControlGroup& group : job_.groups) {
    const auto count = std::ranges::count_if(pages_, [&](const std::string& page) {
      return page.find("Hand-over pack · Install: group " + group.id + " ") != std::string::npos ||
             page.find("Hand-over pack · Install: group " + group.id + "\n") != std::string::npos;
    });
    EXPECT_EQ(count, 2) << group.id;
  }
}

INSTANTIATE_TEST_SUITE_P(
    Jobs, PackLayout,
    testing::Values(Case{"clinic_letter_us", "clinic", "letter", units::System::us},
                    Case{"clinic_a4_metric", "clinic", "a4", units::System::metric},
                    Case{"care_home_letter_us", "care-home", "letter", units::System::us},
                    Case{"care_home_a4_metric", "care-home", "a4", units::System::metric},
                    Case{"hotel_letter_us", "hotel", "letter", units::System::us},
                    Case{"hotel_a4_metric", "hotel", "a4", units::System::metric}),
    [](const auto& each) { return each.param.name; });

}  // namespace
}  // namespace firstdraw::golden
