// What the program prints, kept as text in tests/golden/cli/. Numbers in these files came from the program:
// they show that its words did not change unnoticed and prove nothing about physics. To accept a change:
//   FIRSTDRAW_REFRESH=1 build/release/test_golden --gtest_filter='*CliGolden*'     then read the
//   diff.
#include <gtest/gtest.h>

#include <cstdlib>

#include "cli_program.hpp"
#include "places.hpp"

namespace firstdraw::golden {
namespace {

struct Case {
  std::string name;
  std::vector<std::string> arguments;
  int code = 0;
  int columns = 80;
};

void PrintTo(const Case& shown, std::ostream* out) { *out << shown.name; }

const std::string sheet = "tests/golden/cli/cable.toml";
const std::vector<std::string> loss{"loss",    "--pipe", "copper L 1", "--insulation", "glass fibre 1 in",
                                    "--water", "115F",   "--air",      "70F"};

std::vector<std::string> operator+(std::vector<std::string> words, const std::vector<std::string>& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

const std::vector<Case> cases{
    {"help", {"--help"}},
    {"help-60", {"--help"}, 0, 60},
    {"help-120", {"--help"}, 0, 120},
    {"help-loss", {"help", "loss"}},
    {"help-pack-60", {"pack", "--help"}, 0, 60},
    {"help-simulate", {"simulate", "--help"}},
    {"help-week", {"week", "--help"}},
    {"week-wrong-season", {"week", "examples/clinic", "--toml", "--season", "al year"}, 2},
    {"week-wrong-step", {"week", "examples/clinic", "--step", "7 min"}, 2},
    {"no-command", {}, 2},
    {"wrong-command", {"chek", "examples/clinic"}, 2},
    {"wrong-option", {"plan", "examples/clinic", "--sampels", "10"}, 2},
    {"wrong-choice", loss + std::vector<std::string>{"--law", "iso-1224"}, 2},
    {"missing-argument", {"check"}, 2},
    {"too-many-arguments", {"check", "a", "b"}, 2},
    {"no-job", {"check", "tests/golden/no-such-job"}, 3},
    {"no-job-json", {"plan", "tests/golden/no-such-job", "--json"}, 3},
    {"wrong-command-json", {"chek", "--json"}, 2},
    {"loss", loss},
    {"loss-metric", loss + std::vector<std::string>{"--units", "metric", "--length", "12 m"}},
    {"loss-60", loss, 0, 60},
    {"loss-json", loss + std::vector<std::string>{"--json"}},
    {"loss-every-slip",
     {"loss", "--pipe", "coper L 1", "--insulation", "glas fibre 1 in", "--water", "115", "--air", "70G"},
     2},
    {"loss-layers",
     {"loss", "--pipe", "copper 28x1.5", "--insulation", "mineral wool 20 mm", "--insulation",
      "elastomeric 19 mm", "--water", "60C", "--air", "-5C", "--vertical", "3 m", "--air-speed", "1 m/s",
      "--cable-width", "12 mm", "--cable-thickness", "6 mm"}},
    {"cable", {"cable", sheet, "--pipe-temp", "115F", "--voltage", "208V", "--length", "100ft"}},
    {"cable-json",
     {"cable", sheet, "--pipe-temp", "46C", "--voltage", "208V", "--start-temp", "10C", "--json"}},
    {"cable-wrong-voltage", {"cable", sheet, "--pipe-temp", "46C", "--voltage", "120V"}, 1},
    {"cable-no-sheet", {"cable", "no-such.toml", "--pipe-temp", "46C", "--voltage", "208V"}, 3},
    {"cable-wrong-id", {"cable", "examples/clinic:lt-80", "--pipe-temp", "46C", "--voltage", "208V"}, 3},
    {"wrong-finding", {"explain", "hold-colt"}, 2},
    {"wrong-fault", {"simulate", "examples/clinic", "--fault", "wet-insulatoin:R-04"}, 2},
    {"wrong-tapping", {"simulate", "examples/clinic", "--tapping", "XXXL"}, 2},
    {"version", {"--version"}},
    {"completion-bash", {"completion", "bash"}},
    {"completion-zsh", {"completion", "zsh"}},
    {"completion-fish", {"completion", "fish"}},
};

std::string as_text(const Ran& ran) {
  std::string text = ran.out;
  if (!ran.err.empty()) text += "--- standard error\n" + ran.err;
  return text;
}

class CliGolden : public testing::TestWithParam<Case> {};

TEST_P(CliGolden, PrintsWhatItDid) {
  const Case& asked = GetParam();
  const Ran ran = firstdraw(asked.arguments, {.columns = asked.columns, .variables = {}});
  EXPECT_EQ(ran.code, asked.code);
  const std::string path = places::sources() + "/tests/golden/cli/" + asked.name + ".txt";
  if (std::getenv("FIRSTDRAW_REFRESH") != nullptr) write_file(path, as_text(ran));
  EXPECT_EQ(as_text(ran), read_file(path));
}

INSTANTIATE_TEST_SUITE_P(Cli, CliGolden, testing::ValuesIn(cases), [](const auto& test) {
  std::string name = test.param.name;
  for (char& letter : name) letter = letter == '-' ? '_' : letter;
  return name;
});

}  // namespace
}  // namespace firstdraw::golden
