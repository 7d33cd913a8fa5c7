// `firstdraw archive` through the program's own door: out of one store, into another.
#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/test_run.hpp"
#include "store/store.hpp"

namespace firstdraw::cli {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

class ArchiveCommand : public testing::Test {
 protected:
  ArchiveCommand() {
    fs::create_directories(path("riverside"));
    store::Store store = store::Store::open(path("riverside/records.db")).value();
    store::Draft draft;
    draft.kind = store::RecordKind::note;
    draft.at = "2026-11-29T14:05:00-06:00";
    draft.who = "Test Person";
    EXPECT_TRUE(store.append("riverside", draft));
    const std::int64_t id = store.series("riverside", {0, "riser-a", "temperature", ""}).value();
    EXPECT_TRUE(store.write(id, std::vector<store::Sample>{{1000, 50.5}, {2000, 51}}));
    EXPECT_TRUE(store.append("annexe", draft));
  }
  std::string path(const std::string& name) const { return folder_.path(name); }
  std::string bytes(const std::string& name) const {
    std::ifstream stream(path(name), std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
  }

  TestFolder folder_{"firstdraw_archive"};
};

TEST_F(ArchiveCommand, OutOfAJobFolderIntoAnotherStore) {
  const Ran out = ran({"archive", "export", path("a.zip"), path("riverside"), "--json"});
  ASSERT_EQ(out.code, 0) << out.out << out.err;
  const auto answer = nlohmann::json::parse(out.out);
  EXPECT_EQ(answer["books"], nlohmann::json::array({"riverside"}));
  EXPECT_EQ(answer["records"], 1);
  EXPECT_EQ(answer["samples"], 2);
  EXPECT_EQ(ran({"archive", "import", path("a.zip"), "--store", path("b.db")}).code, 0);
  const Ran again = ran({"archive", "export", path("b.zip"), "--store", path("b.db")});
  EXPECT_THAT(again.out, HasSubstr("Readings"));
  EXPECT_TRUE(!bytes("a.zip").empty() && bytes("a.zip") == bytes("b.zip"));
}

TEST_F(ArchiveCommand, WithoutAJobEveryBookOrTheOneNamed) {
  const auto books = [&](std::vector<std::string> more) {
    std::vector<std::string> words{"archive", "export",  path("a.zip"),
                                   "--json",  "--store", path("riverside/records.db")};
    words.insert(words.end(), more.begin(), more.end());
    return nlohmann::json::parse(ran(words).out)["books"];
  };
  EXPECT_EQ(books({}), nlohmann::json::array({"annexe", "riverside"}));
  EXPECT_EQ(books({"--book", "annexe"}), nlohmann::json::array({"annexe"}));
}

TEST_F(ArchiveCommand, WhatCannotBeSaysWhy) {
  const Ran nowhere = ran({"archive", "export", path("a.zip")});
  EXPECT_EQ(nowhere.code, 2);
  EXPECT_THAT(nowhere.err, HasSubstr("--store"));
  EXPECT_EQ(ran({"archive", "export", path("a.zip"), path("nobody")}).code, 3);
  EXPECT_EQ(ran({"archive", "export", path("none/a.zip"), path("riverside")}).code, 4);
  EXPECT_EQ(ran({"archive", "import", path("none.zip"), path("riverside")}).code, 3);
  std::ofstream(path("bad.zip")) << "no archive";
  const Ran bad = ran({"archive", "import", path("bad.zip"), path("riverside")});
  EXPECT_EQ(bad.code, 3);
  EXPECT_THAT(bad.err, HasSubstr("no whole archive"));
  EXPECT_FALSE(fs::exists(path("a.zip")));
}

}  // namespace
}  // namespace firstdraw::cli
