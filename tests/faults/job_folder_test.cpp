// Job folders that are cut, locked, missing or in the way: one clear answer each, and nothing half-written.
#include <gmock/gmock.h>
#include <sys/stat.h>
#include <unistd.h>

#include <fstream>
#include <iterator>

#include "job/folder.hpp"
#include "places.hpp"

namespace firstdraw::job {
namespace {

namespace fs = std::filesystem;
using testing::AllOf;
using testing::HasSubstr;

std::string texts(const std::vector<Diagnostic>& problems) {
  std::string out;
  for (const auto& problem : problems) out += problem.text() + "\n";
  return out;
}

class JobFaults : public testing::Test {
 protected:
  void SetUp() override {
    const auto* test = testing::UnitTest::GetInstance()->current_test_info();
    folder = fs::path(testing::TempDir()) / (std::string("firstdraw_faults_") + test->name());
    fs::remove_all(folder);
    fs::copy(fs::path(places::sources()) / "tests" / "golden" / "job_small", folder,
             fs::copy_options::recursive);
  }
  void TearDown() override {
    std::error_code ignored;
    fs::permissions(folder, fs::perms::owner_all, ignored);
    fs::remove_all(folder, ignored);
  }
  std::string text(const std::string& file) const {
    std::ifstream stream(folder / file, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
  }
  void put(const std::string& file, const std::string& content) const {
    std::ofstream(folder / file, std::ios::binary) << content;
  }
  std::string problems() const {
    const auto job = read_job(folder);
    return job ? std::string("reads well") : texts(job.error());
  }

  fs::path folder;
};

TEST_F(JobFaults, NoSuchFolder) {
  const auto job = read_job(folder / "nowhere");
  ASSERT_FALSE(job);
  EXPECT_THAT(texts(job.error()), HasSubstr("there is no such folder"));
}

TEST_F(JobFaults, AFileInsteadOfAFolder) {
  const auto job = read_job(folder / "job.toml");
  ASSERT_FALSE(job);
  EXPECT_THAT(texts(job.error()), HasSubstr("is not a folder"));
}

TEST_F(JobFaults, EveryMissingFileIsNamedAtOnce) {
  for (const char* file : {"job.toml", "runs.csv", "outlets.csv"}) fs::remove(folder / file);
  EXPECT_EQ(problems(),
            "job.toml: the job folder has no such file\n"
            "runs.csv: the job folder has no such file\n"
            "outlets.csv: the job folder has no such file\n");
}

TEST_F(JobFaults, NoCatalogue) {
  fs::remove_all(folder / "catalog");
  EXPECT_EQ(
      problems(),
      "catalog: there is no cable data sheet, but runs are traced (put one file per cable into catalog/)\n");
}

TEST_F(JobFaults, AFolderInsteadOfAFile) {
  fs::remove(folder / "runs.csv");
  fs::create_directory(folder / "runs.csv");
  EXPECT_EQ(problems(), "runs.csv: is not a file\n");
}

TEST_F(JobFaults, TheFileOfTheTariffMissingOrAFolder) {
  put("job.toml", text("job.toml") + "\n[tariff]\nzone = \"America/Chicago\"\nfile = \"tariff.csv\"\n");
  EXPECT_THAT(problems(), HasSubstr("tariff.file: the job folder has no file \"tariff.csv\" (put it beside"));
  fs::create_directory(folder / "tariff.csv");
  EXPECT_EQ(problems(), "tariff.csv: is not a file\n");
  fs::remove(folder / "tariff.csv");
  put("tariff.csv", "");  // what it says is judged when a week is made
  EXPECT_EQ(problems(), "reads well");
}

TEST_F(JobFaults, EmptyFiles) {
  put("runs.csv", "");
  EXPECT_THAT(problems(),
              AllOf(HasSubstr("runs.csv:1: id: this column is missing"), HasSubstr("there is no run in it")));
  put("job.toml", "");
  EXPECT_THAT(problems(), AllOf(HasSubstr("site.name: is missing"), HasSubstr("rules.hygiene: is missing"),
                                HasSubstr("level: at least one is needed")));
}

/// Cut anywhere, as by a full disk or a lost line: problems or a job, never a crash.
TEST_F(JobFaults, FilesCutAtEveryPlace) {
  for (const char* file : {"job.toml", "runs.csv", "outlets.csv", "catalog/lt-12.toml"}) {
    const std::string whole = text(file);
    for (std::size_t length = 0; length < whole.size(); length += 29) {
      put(file, whole.substr(0, length));
      ASSERT_NO_THROW({
        const auto job = read_job(folder);
        ASSERT_TRUE(job || !job.error().empty()) << file << " cut at " << length;
      });
    }
    put(file, whole);
  }
  EXPECT_EQ(problems(), "reads well");
}

TEST_F(JobFaults, ACutInTheMiddleOfARowIsNoticed) {
  const std::string whole = text("runs.csv");
  put("runs.csv", whole.substr(0, whole.find("down to the public restroom")));
  EXPECT_THAT(problems(), HasSubstr("outlets.csv"));  // the last drop is gone, its tap hangs in the air
  put("runs.csv", whole.substr(0, whole.find(",glass fibre,,yes,1,2,1,1,down to the public restroom")));
  EXPECT_THAT(problems(), HasSubstr("runs.csv:12: run: 10 cells, but the first line names 18"));
}

/// The superuser may read and write everything, so give that up for a while.
class Ordinary {
 public:
  Ordinary() : was_(geteuid()) {
    if (was_ == 0 && seteuid(nobody) != 0) ADD_FAILURE() << "cannot become an ordinary user";
  }
  Ordinary(const Ordinary&) = delete;
  Ordinary& operator=(const Ordinary&) = delete;
  ~Ordinary() {
    if (seteuid(was_) != 0) ADD_FAILURE() << "cannot become the former user";
  }

 private:
  static constexpr uid_t nobody = 65534;
  uid_t was_;
};

TEST_F(JobFaults, AFileThatMayNotBeRead) {
  fs::permissions(folder / "runs.csv", fs::perms::none);
  const Ordinary user;
  EXPECT_EQ(problems(), "runs.csv: cannot be read: Permission denied\n");
}

TEST_F(JobFaults, ACatalogueThatMayNotBeRead) {
  fs::permissions(folder / "catalog", fs::perms::none);
  const std::string said = [&] {
    const Ordinary user;
    return problems();
  }();
  fs::permissions(folder / "catalog", fs::perms::owner_all);
  EXPECT_EQ(said, "catalog: cannot be read: Permission denied\n");
}

TEST_F(JobFaults, AFolderThatMayNotBeWritten) {
  const auto job = read_job(folder);
  ASSERT_TRUE(job);
  fs::permissions(folder, static_cast<fs::perms>(0555));
  fs::permissions(folder / "catalog", static_cast<fs::perms>(0555));
  const Ordinary user;
  const auto written = write_job(*job, folder);
  ASSERT_FALSE(written);
  EXPECT_THAT(texts(written.error()), HasSubstr("cannot be written: Permission denied"));
}

TEST_F(JobFaults, WritingIntoAFileSaysSo) {
  const auto job = read_job(folder);
  ASSERT_TRUE(job);
  const auto written = write_job(*job, folder / "runs.csv" / "inside");
  ASSERT_FALSE(written);
  EXPECT_THAT(texts(written.error()), HasSubstr("cannot be made"));
}

/// A folder sits where a file should go: what was there before stays, and nothing is left beside it.
TEST_F(JobFaults, AFailedWriteLeavesNothingBeside) {
  auto job = read_job(folder);
  ASSERT_TRUE(job);
  const std::string before = text("job.toml");
  job->site.name = "Another name";
  fs::create_directories(folder / "runs.csv.new" / "in-the-way");
  const auto written = write_job(*job, folder);
  ASSERT_FALSE(written);
  EXPECT_THAT(texts(written.error()), HasSubstr("runs.csv: cannot be written"));
  EXPECT_EQ(text("job.toml"), before);
  EXPECT_FALSE(fs::exists(folder / "job.toml.new"));
  EXPECT_FALSE(fs::exists(folder / "outlets.csv.new"));
}

TEST_F(JobFaults, AFullDisk) {
  // /dev/full takes nothing: a link to it in the place of the file beside stands for a full disk.
  if (!fs::exists("/dev/full")) GTEST_SKIP() << "no /dev/full here";
  auto job = read_job(folder);
  ASSERT_TRUE(job);
  const std::string before = text("runs.csv");
  fs::create_symlink("/dev/full", folder / "runs.csv.new");
  const auto written = write_job(*job, folder);
  ASSERT_FALSE(written);
  EXPECT_THAT(texts(written.error()), HasSubstr("runs.csv: cannot be written: No space left on device"));
  EXPECT_EQ(text("runs.csv"), before);
  EXPECT_FALSE(fs::exists(folder / "job.toml.new"));
}

TEST_F(JobFaults, BytesThatAreNoText) {
  put("runs.csv", text("runs.csv") + "R-11,\xff\xfe,B\n");
  EXPECT_THAT(problems(), HasSubstr("runs.csv:14:"));
  put("runs.csv", std::string("id,from\0,to\n", 12));
  EXPECT_THAT(problems(), HasSubstr("runs.csv:1:"));
}

TEST_F(JobFaults, DeepNestingInToml) {
  put("job.toml", "a = " + std::string(100000, '[') + "\n");
  EXPECT_THAT(problems(), HasSubstr("job.toml:1:"));
}

}  // namespace
}  // namespace firstdraw::job
