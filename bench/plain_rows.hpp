// What a store of readings is measured against: the table anyone would make first, one row a reading.
#pragma once

#include <fmt/format.h>
#include <libpq-fe.h>
#include <soci/postgresql/soci-postgresql.h>
#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>

#include <cstdint>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

#include "store/series.hpp"

namespace firstdraw::bench {

/// As quick as the databases take rows: SQLite clustered by the key, one prepared statement and the same
/// durability as the store; PostgreSQL by COPY. One transaction a write.
class PlainRows {
 public:
  PlainRows(bool postgresql, const std::string& where) : postgresql_(postgresql), path_(where) {
    if (postgresql) {
      sql_.open(soci::postgresql, where);
      sql_ << "CREATE TABLE plain_reading (series BIGINT, at BIGINT, value DOUBLE PRECISION, PRIMARY KEY "
              "(series, at))";
      return;
    }
    sql_.open(soci::sqlite3, "dbname=" + where);
    sql_ << "PRAGMA journal_mode = WAL";
    sql_ << "PRAGMA synchronous = FULL";
    sql_ << "CREATE TABLE plain_reading (series BIGINT, at BIGINT, value DOUBLE PRECISION, PRIMARY KEY "
            "(series, at)) "
            "WITHOUT ROWID";
  }

  void write(std::int64_t series, const std::vector<store::Sample>& samples) {
    soci::transaction transaction(sql_);
    if (postgresql_)
      copy(series, samples);
    else
      insert(series, samples);
    transaction.commit();
  }

  std::vector<store::Sample> samples(std::int64_t series, std::int64_t from, std::int64_t to) {
    const long long wanted = series, first = from, end = to;
    std::vector<long long> at(10'000);
    std::vector<double> value(10'000);
    std::vector<store::Sample> found;
    soci::statement rows =
        (sql_.prepare
             << "SELECT at, value FROM plain_reading WHERE series = :s AND at >= :f AND at < :t ORDER BY at",
         soci::use(wanted, "s"), soci::use(first, "f"), soci::use(end, "t"), soci::into(at),
         soci::into(value));
    rows.execute();
    while (rows.fetch()) {
      for (std::size_t i = 0; i < at.size(); ++i) found.push_back({at[i], value[i]});
      at.resize(10'000);
      value.resize(10'000);
    }
    return found;
  }

  /// Rows of figures a day of the series from `first` on.
  std::size_t days(std::int64_t first, std::int64_t count) {
    const long long from = first, end = first + count;
    const soci::rowset<soci::row> rows =
        (sql_.prepare << "SELECT series, at / 86400000, count(*), min(value), max(value), avg(value) FROM "
                         "plain_reading "
                         "WHERE series >= :f AND series < :e GROUP BY 1, 2",
         soci::use(from, "f"), soci::use(end, "e"));
    std::size_t found = 0;
    for ([[maybe_unused]] const soci::row& row : rows) ++found;
    return found;
  }

  std::int64_t bytes() {
    long long bytes = 0;
    if (postgresql_) {
      sql_ << "SELECT pg_total_relation_size('plain_reading')", soci::into(bytes);
      return bytes;
    }
    sql_ << "PRAGMA wal_checkpoint(TRUNCATE)";
    return static_cast<std::int64_t>(std::filesystem::file_size(path_));
  }

 private:
  void insert(std::int64_t series, const std::vector<store::Sample>& samples) {
    long long number = series, at = 0;
    double value = 0;
    soci::statement row = (sql_.prepare << "INSERT INTO plain_reading VALUES (:s, :a, :v)", soci::use(number),
                           soci::use(at), soci::use(value));
    for (const store::Sample& sample : samples) {
      at = sample.at_ms;
      value = sample.value;
      row.execute(true);
    }
  }

  void copy(std::int64_t series, const std::vector<store::Sample>& samples) {
    PGconn* connection = static_cast<soci::postgresql_session_backend*>(sql_.get_backend())->conn_;
    PQclear(PQexec(connection, "COPY plain_reading FROM STDIN"));
    std::string text;
    for (const store::Sample& sample : samples)
      text += fmt::format("{}\t{}\t{}\n", series, sample.at_ms, sample.value);
    const bool sent = PQputCopyData(connection, text.data(), static_cast<int>(text.size())) == 1 &&
                      PQputCopyEnd(connection, nullptr) == 1;
    bool done = sent;
    while (PGresult* result = PQgetResult(connection)) {
      done = done && PQresultStatus(result) == PGRES_COMMAND_OK;
      PQclear(result);
    }
    if (!done) throw std::runtime_error("COPY failed");
  }

  bool postgresql_;
  std::string path_;
  soci::session sql_;
};

}  // namespace firstdraw::bench
