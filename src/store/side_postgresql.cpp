// PostgreSQL's side: writers of one book wait for each other at an advisory lock.
#include <fmt/format.h>
#include <libpq-fe.h>
#include <soci/postgresql/soci-postgresql.h>

#include "store/postgresql_connection.hpp"
#include "store/session.hpp"
#include "store/side.hpp"

namespace firstdraw::store {
namespace {

PGconn* handle_of(soci::session& sql) {
  return static_cast<soci::postgresql_session_backend*>(sql.get_backend())->conn_;
}

/// libpq would write the server's notices to standard error.
void ignore_notice(void* /*nothing*/, const char* /*message*/) {}

/// One line without the libraries' own lead and final dot.
std::string one_line(std::string_view text) {
  std::string line;
  for (const char c : text.substr(0, 400)) {
    const bool blank = c == ' ' || c == '\n' || c == '\t';
    if (!blank) line += c;
    if (blank && !line.empty() && line.back() != ' ') line += ' ';
  }
  for (const std::string_view lead : {"Cannot establish connection to the database. ",
                                      "Cannot execute query. ", "Fatal error. ", "ERROR: "})
    if (line.starts_with(lead)) line.erase(0, lead.size());
  while (!line.empty() && (line.back() == ' ' || line.back() == '.')) line.pop_back();
  return line;
}

void refuse_other_encodings(soci::session& sql, const Address& address) {
  std::string encoding;
  sql << "SELECT current_setting('server_encoding')", soci::into(encoding);
  if (encoding != "UTF8")
    throw Stop{{FailureKind::refused,
                fmt::format("{} keeps text as {}, which cannot hold every name.", address.shown, encoding),
                "Create the database with ENCODING 'UTF8'."}};
}

Trouble unreachable(const Address& address, const std::string& said) {
  return {{FailureKind::unreachable, fmt::format("{} does not answer: {}.", address.shown, said),
           "Look whether the server runs and the network is up, then do it again."},
          true};
}

/// Nothing but text says why a connection was not made; whether the server takes any is known without it.
Trouble not_connected(const Address& address, const std::string& said) {
  const PGPing answer = PQping(address.connect.c_str());
  Trouble trouble = unreachable(address, said);
  trouble.again = answer == PQPING_REJECT;
  if (answer != PQPING_OK) return trouble;
  return {{FailureKind::refused, fmt::format("{} lets nobody in this way: {}.", address.shown, said),
           "Look at user, password and database of the address."},
          true};
}

Trouble trouble_of(const std::string& state, const std::string& said, const Address& address) {
  const std::string& shown = address.shown;
  const std::string group = state.substr(0, 2);
  if (state == "53100")
    return {{FailureKind::full, fmt::format("There is no space left on the server of {}.", shown),
             "Free space there and do it again; what was recorded before is not touched."}};
  if (state == "40001" || state == "40P01")
    return {{FailureKind::busy, fmt::format("Others kept writing to {} at the same time.", shown),
             "Do it again."},
            false,
            true};
  if (state == "55P03" || state == "57014" || group == "53")
    return {{FailureKind::busy, fmt::format("{} was busy for more than 10 s: {}.", shown, said),
             "Do it again once the others are done."}};
  if (state == "42501" || state == "25006" || group == "28")
    return {{FailureKind::refused, fmt::format("{} does not permit this: {}.", shown, said),
             "Ask the database's keeper for permission to write."}};
  if (group == "57" || group == "58") return unreachable(address, said);
  if (group == "23" || group == "P0" || group == "22")
    return {{FailureKind::bad_input, fmt::format("{} does not take this: {}.", shown, said),
             "Look at what the book holds already."}};
  return {{FailureKind::damaged, fmt::format("{} does not hold what it should: {}.", shown, said),
           "Look at the database with its own tools, or put the last back-up in its place."}};
}

class PostgresqlSide : public Side {
 public:
  std::unique_ptr<soci::session> connect(const Address& address, bool /*create*/) const override {
    auto sql = connect_postgresql(address.connect);
    PQsetNoticeProcessor(handle_of(*sql), ignore_notice, nullptr);
    refuse_other_encodings(*sql, address);
    *sql << "SET client_encoding = 'UTF8'";
    *sql << "SET lock_timeout = '10s'";
    // Stricter settings of the server stay.
    *sql << "SELECT set_config('synchronous_commit', 'on', false) "
            "WHERE current_setting('synchronous_commit') IN ('off', 'local')";
    return sql;
  }

  void begin(soci::session& sql, bool writing) const override {
    sql << (writing ? "BEGIN ISOLATION LEVEL READ COMMITTED READ WRITE"
                    : "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY");
  }

  void lock_book(soci::session& sql, std::string_view job) const override {
    const std::string book(job);
    sql << "SELECT pg_advisory_xact_lock(hashtextextended(:job, 710))", soci::use(book, "job");
  }
  void lock_schema(soci::session& sql) const override { sql << "SELECT pg_advisory_xact_lock(7100)"; }

  bool has_table(soci::session& sql, std::string_view name) const override {
    int count = 0;
    const std::string wanted(name);
    sql << "SELECT count(*) FROM pg_tables WHERE schemaname = current_schema() AND tablename = :name",
        soci::into(count), soci::use(wanted, "name");
    return count > 0;
  }

  bool shares() const override { return true; }

  bool is_gone(soci::session& sql) const override { return PQstatus(handle_of(sql)) != CONNECTION_OK; }

  Trouble trouble(const std::exception& error, soci::session* sql, const Address& address) const override {
    const auto* plain = dynamic_cast<const soci::soci_error*>(&error);
    // what() would quote the values of the statement.
    const std::string said = one_line(plain == nullptr ? error.what() : plain->get_error_message());
    if (sql == nullptr) return not_connected(address, said);
    if (is_gone(*sql)) return unreachable(address, said);
    const auto* known = dynamic_cast<const soci::postgresql_soci_error*>(&error);
    return trouble_of(known == nullptr ? "XX000" : known->sqlstate(), said, address);
  }
};

}  // namespace

const Side& postgresql_side() {
  static const PostgresqlSide side;
  return side;
}

}  // namespace firstdraw::store
