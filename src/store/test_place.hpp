// Where tests keep a store: a file of their own, or a schema of their own on the server that
// FIRSTDRAW_TEST_POSTGRES names (scripts/with-postgres starts one).
#pragma once

#include <gtest/gtest.h>
#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>
#include <unistd.h>

#include <atomic>
#include <cstdlib>
#include <filesystem>
#include <memory>
#include <string>

#include "store/address.hpp"
#include "store/postgresql_connection.hpp"
#include "store/store.hpp"

namespace firstdraw::store {

inline std::string test_server() {
  const char* where = std::getenv("FIRSTDRAW_TEST_POSTGRES");
  return where == nullptr ? "" : where;
}

class TestPlace {
 public:
  /// `server`: of PostgreSQL; empty for the one of the environment.
  explicit TestPlace(Dialect dialect, const std::string& server = "") : dialect_(dialect) {
    static std::atomic<int> count = 0;
    name_ = "firstdraw_" + std::to_string(getpid()) + "_" + std::to_string(++count);
    folder_ = std::filesystem::temp_directory_path() / name_;
    std::filesystem::create_directories(folder_);
    where_ = (folder_ / "records.db").string();
    if (dialect == Dialect::sqlite) return;
    server_ = server.empty() ? test_server() : server;
    where_ =
        server_ + (server_.find('?') == std::string::npos ? "?" : "&") + "options=-csearch_path%3D" + name_;
    *connect_postgresql(server_) << "CREATE SCHEMA " << name_;
  }
  TestPlace(const TestPlace&) = delete;
  TestPlace& operator=(const TestPlace&) = delete;
  ~TestPlace() {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
    if (dialect_ == Dialect::sqlite || keep_) return;
    try {
      const auto sql = connect_postgresql(server_);
      *sql << "SET client_min_messages = error";
      *sql << "DROP SCHEMA " << name_ << " CASCADE";
    } catch (const soci::soci_error&) {  // NOLINT(bugprone-empty-catch): the server goes away with all of it
    }
  }

  const std::string& where() const { return where_; }
  const std::filesystem::path& folder() const { return folder_; }
  Dialect dialect() const { return dialect_; }
  /// The server is stopped or gone at the end: nothing to tidy up there.
  void keep() { keep_ = true; }

  Store open() const { return Store::open(where_).value(); }

  /// A connection behind the store's back.
  std::unique_ptr<soci::session> behind() const {
    if (dialect_ == Dialect::postgresql) {
      auto sql = connect_postgresql(server_);
      *sql << "SET search_path = " << name_;
      return sql;
    }
    return std::make_unique<soci::session>(soci::sqlite3, "dbname=\"" + where_ + "\" timeout=10");
  }
  /// The same with the triggers gone that refuse changes.
  std::unique_ptr<soci::session> forger() const {
    auto sql = behind();
    for (const std::string table : {"records", "files"}) {
      if (dialect_ == Dialect::postgresql)
        *sql << "ALTER TABLE " << table << " DISABLE TRIGGER ALL";
      else
        for (const std::string change : {"update", "delete"})
          *sql << "DROP TRIGGER IF EXISTS " << table << "_no_" << change;
    }
    return sql;
  }

 private:
  Dialect dialect_;
  std::string name_, server_, where_;
  std::filesystem::path folder_;
  bool keep_ = false;
};

/// Tests that run on both databases: INSTANTIATE_TEST_SUITE_P(On, NAME, both_databases, database_name).
class OnBothDatabases : public ::testing::TestWithParam<Dialect> {
 protected:
  void SetUp() override {
    if (GetParam() == Dialect::postgresql && test_server().empty())
      GTEST_SKIP() << "no PostgreSQL: run under scripts/with-postgres, or set FIRSTDRAW_TEST_POSTGRES";
    place_ = std::make_unique<TestPlace>(GetParam());
  }
  const TestPlace& place() const { return *place_; }
  std::unique_ptr<TestPlace> place_;
};

inline const auto both_databases = ::testing::Values(Dialect::sqlite, Dialect::postgresql);
inline std::string database_name(const ::testing::TestParamInfo<Dialect>& info) {
  return info.param == Dialect::sqlite ? "sqlite" : "postgresql";
}

inline Draft note(const std::string& text) {
  Draft draft;
  draft.kind = RecordKind::note;
  draft.at = "2026-11-29T14:05:00-06:00";
  draft.who = "Test Person";
  draft.body = "{\"text\":\"" + text + "\"}";
  return draft;
}

}  // namespace firstdraw::store
