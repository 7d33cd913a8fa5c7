// The PDF read back with poppler's tools: sizes, words, margins, repeated headings.
#include <fmt/format.h>

#include <cmath>
#include <regex>
#include <set>

#include "pack_tools.hpp"

namespace firstdraw::golden {
namespace {

constexpr double pt_per_mm = 72 / 25.4;

struct Case {
  std::string name, example, paper;
  units::System units = units::System::us;
  bool long_names = false;
};
void PrintTo(const Case& each, std::ostream* out) { *out << each.name; }

struct Word {
  int page = 0;
  double left = 0, top = 0, right = 0, bottom = 0, page_width = 0, page_height = 0;
  std::string text;
};

std::vector<Word> words_of(const std::string& pdf) {
  static const std::regex page("<page width=\"([0-9.]+)\" height=\"([0-9.]+)\">");
  static const std::regex word(
      "<word xMin=\"([-0-9.]+)\" yMin=\"([-0-9.]+)\" xMax=\"([-0-9.]+)\" yMax=\"([-0-9.]+)\">(.*)</word>");
  std::vector<Word> words;
  Word current;
  std::istringstream lines(output_of("pdftotext -bbox '" + pdf + "' -"));
  for (std::string line; std::getline(lines, line);) {
    std::smatch found;
    if (std::regex_search(line, found, page)) {
      ++current.page;
      current.page_width = std::stod(found[1]);
      current.page_height = std::stod(found[2]);
    } else if (line.find("<word") != std::string::npos && std::regex_search(line, found, word)) {
      current.left = std::stod(found[1]);
      current.top = std::stod(found[2]);
      current.right = std::stod(found[3]);
      current.bottom = std::stod(found[4]);
      current.text = found[5];
      words.push_back(current);
    }
  }
  return words;
}

class PackPages : public testing::TestWithParam<Case> {
 protected:
  void SetUp() override {
    job_ = example(GetParam().example);
    job_.paper = GetParam().paper;
    job_.units = GetParam().units;
    if (GetParam().long_names) lengthen_names(job_);
    folder_.emplace("pages-" + GetParam().name);
    const plan::Plan plan = planned(job_);
    const forecast::Forecast forecast = simulated(job_, plan);
    const auto written = paper::write_pack(job_, plan, folder_->path(), {}, {.forecast = &forecast});
    ASSERT_TRUE(written) << written.error().front().text();
  }
  std::string pdf() const { return folder_->file("hand-over.pdf"); }
  std::string text(int page) const {
    const std::string number = std::to_string(page);
    return output_of("pdftotext -layout -f " + number + " -l " + number + " '" + pdf() + "' -");
  }

  job::Job job_;
  std::optional<PackFolder> folder_;
};

TEST_P(PackPages, EveryPageIsOnThePaperTheJobNames) {
  const bool letter = GetParam().paper == "letter";
  const double width = letter ? 612 : 595.276, height = letter ? 792 : 841.89;
  const std::string info = output_of("pdfinfo -f 1 -l 9999 '" + pdf() + "'");
  static const std::regex size("Page +\\d+ size: +([0-9.]+) x ([0-9.]+)");
  int pages = 0;
  for (std::sregex_iterator each(info.begin(), info.end(), size), last; each != last; ++each, ++pages) {
    const double a = std::stod((*each)[1]), b = std::stod((*each)[2]);
    EXPECT_NEAR(std::min(a, b), width, 0.1);
    EXPECT_NEAR(std::max(a, b), height, 0.1);
  }
  EXPECT_GT(pages, 15);
}

TEST_P(PackPages, NoWordStandsOutsideTheMargins) {
  const auto words = words_of(pdf());
  ASSERT_GT(words.size(), 2000U);
  for (const Word& word : words) {
    EXPECT_GE(word.left, 19.5 * pt_per_mm) << word.text << ", page " << word.page;
    EXPECT_LE(word.right, word.page_width - 13.5 * pt_per_mm) << word.text << ", page " << word.page;
    EXPECT_GE(word.top, 8 * pt_per_mm) << word.text << ", page " << word.page;
    EXPECT_LE(word.bottom, word.page_height - 6 * pt_per_mm) << word.text << ", page " << word.page;
  }
}

TEST_P(PackPages, NoWordRunsIntoTheFooter) {
  for (const Word& word : words_of(pdf())) {
    const double footer = word.page_height - 15.6 * pt_per_mm;
    EXPECT_TRUE(word.bottom <= footer + 1 || word.top >= footer - 1) << word.text << ", page " << word.page;
  }
}

TEST_P(PackPages, EveryPageCarriesItsNumberAndTheStandingStatement) {
  std::set<int> last_pages;
  int pages = 0;
  std::string all = output_of("pdftotext -layout '" + pdf() + "' -");
  std::istringstream stream(all);
  for (std::string page; std::getline(stream, page, '\f');) {
    if (page.empty()) continue;
    ++pages;
    std::smatch found;
    ASSERT_TRUE(std::regex_search(page, found, std::regex("Page (\\d+) of (\\d+)"))) << page;
    EXPECT_EQ(std::stoi(found[1]), pages);
    last_pages.insert(std::stoi(found[2]));
    EXPECT_NE(page.find("A licensed electrician makes the connections"), std::string::npos)
        << "page " << pages;
  }
  EXPECT_EQ(last_pages, std::set<int>{pages});
}

TEST_P(PackPages, ContentsLeadToTheParts) {
  const std::string all = output_of("pdftotext -layout '" + pdf() + "' -");
  const std::string contents = all.substr(all.find("\nContents\n"));
  std::smatch found;
  for (const char* part :
       {"Riser drawing", "Run schedule", "Circuit schedule", "Panel schedules", "Bill of materials",
        "Control settings", "Design choices", "Installation sheets"}) {
    ASSERT_TRUE(std::regex_search(contents, found, std::regex(std::string(part) + " +(\\d+)"))) << part;
    EXPECT_NE(text(std::stoi(found[1])).find(part), std::string::npos) << part;
  }
}

INSTANTIATE_TEST_SUITE_P(
    Jobs, PackPages,
    testing::Values(Case{"clinic_letter_us", "clinic", "letter", units::System::us},
                    Case{"clinic_a4_metric", "clinic", "a4", units::System::metric},
                    Case{"clinic_letter_metric_long", "clinic", "letter", units::System::metric, true},
                    Case{"care_home_a4_us_long", "care-home", "a4", units::System::us, true},
                    Case{"hotel_letter_us", "hotel", "letter", units::System::us}),
    [](const auto& each) { return each.param.name; });

TEST(Pack, HasEveryPartOfTheHandOver) {
  const job::Job job = example("clinic");
  const PackFolder folder("parts");
  ASSERT_TRUE(paper::write_pack(job, planned(job), folder.path()));
  const std::string text = output_of("pdftotext -layout '" + folder.file("hand-over.pdf") + "' -");
  for (const char* part : {"Contents",
                           "Rules in force",
                           "What to build",
                           "What it holds",
                           "Have before starting",
                           "Where the controller goes",
                           "LINE",
                           "LOAD",
                           "SENSOR",
                           "ALARM",
                           "BMS",
                           "opposite the cable",
                           "Insulation and labels",
                           "First power-up and first day",
                           "Field tests: circuit C01",
                           "Signature",
                           "Assumptions",
                           "Findings",
                           "Mains voltage",
                           "lock out",
                           "Fire and arcing",
                           "Second-degree",
                           "Legionella",
                           "Sources",
                           "authority having jurisdiction"})
    EXPECT_NE(text.find(part), std::string::npos) << part;
  for (const job::Run& run : job.runs) EXPECT_NE(text.find(run.id), std::string::npos) << run.id;
}

TEST(Pack, TablesRepeatTheirHeadings) {
  const job::Job job = example("hotel");
  const PackFolder folder("headings");
  ASSERT_TRUE(paper::write_pack(job, planned(job), folder.path()));
  const std::string pdf = folder.file("hand-over.pdf");
  const std::string contents = output_of("pdftotext -layout -f 2 -l 3 '" + pdf + "' -");
  std::smatch first, next;
  ASSERT_TRUE(std::regex_search(contents, first, std::regex("Run schedule +(\\d+)")));
  ASSERT_TRUE(std::regex_search(contents, next, std::regex("Circuit schedule +(\\d+)")));
  ASSERT_GT(std::stoi(next[1]) - std::stoi(first[1]), 3) << "the hotel's run schedule takes several pages";
  for (int page = std::stoi(first[1]); page < std::stoi(next[1]); ++page) {
    const std::string text = output_of(fmt::format("pdftotext -layout -f {0} -l {0} '{1}' -", page, pdf));
    EXPECT_TRUE(text.find("Sized for") != std::string::npos || text.find("Warm-up") != std::string::npos)
        << "page " << page;
  }
}

TEST(Pack, AcceptedFindingsNameWhoAcceptedThem) {
  const job::Job job = example("clinic");
  plan::Plan plan = planned(job);
  ASSERT_FALSE(plan.findings.empty());
  plan.findings.front().accepted = true;
  plan.findings.front().accepted_by = "Quilla Vennering";
  plan.findings.front().accepted_reason = "agreed on site";
  plan.findings.front().accepted_date = "2026-02-03";
  const PackFolder folder("accepted");
  ASSERT_TRUE(paper::write_pack(job, plan, folder.path()));
  const std::string text = output_of("pdftotext -layout '" + folder.file("hand-over.pdf") + "' -");
  for (const char* word : {"Accepted by name", "Vennering", "agreed on site", "2026-02-03"})
    EXPECT_NE(text.find(word), std::string::npos) << word;
}

}  // namespace
}  // namespace firstdraw::golden
