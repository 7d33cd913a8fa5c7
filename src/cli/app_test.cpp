#include "cli/app.hpp"

#include <gmock/gmock.h>

#include <algorithm>
#include <sstream>
#include <stdexcept>

namespace firstdraw::cli {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;

TEST(Guarded, AFaultOfTheProgramIsOneLineAndSeventy) {
  std::ostringstream out, err;
  const Context context(out, err, Terminal{}, CommonOptions{});
  const ExitCode code =
      guarded(context, []() -> ExitCode { throw std::logic_error("a promise was broken"); });
  EXPECT_EQ(code, ExitCode::internal_error);
  EXPECT_THAT(out.str(), IsEmpty());
  EXPECT_EQ(std::ranges::count(err.str(), '\n'), 1);
  EXPECT_THAT(err.str(), HasSubstr("a promise was broken"));
  EXPECT_THAT(err.str(), HasSubstr("please report it"));
}

TEST(Guarded, AsJsonToo) {
  std::ostringstream out, err;
  CommonOptions options;
  options.json = true;
  const Context context(out, err, Terminal{}, options);
  guarded(context, []() -> ExitCode { throw std::runtime_error("\xff"); });
  EXPECT_THAT(err.str(), IsEmpty());
  EXPECT_TRUE(nlohmann::json::parse(out.str()).contains("errors")) << "even when the message is not UTF-8";
}

TEST(Run, AStreamThatFailsIsFour) {
  std::ostringstream out, err;
  out.setstate(std::ios::badbit);
  EXPECT_EQ(run({"--version"}, out, err, {}), 4);
  EXPECT_THAT(err.str(), HasSubstr("cannot write"));
}

TEST(Run, NeverThrowsOnAnyArguments) {
  for (const std::string word :
       {"", "-", "--", "---", "=", "--=", "-=", "loss:", "\xff\xfe", "{}", "--json=", "--color="}) {
    std::ostringstream out, err;
    EXPECT_EQ(run({word, word}, out, err, {}), 2) << word;
  }
}

}  // namespace
}  // namespace firstdraw::cli
