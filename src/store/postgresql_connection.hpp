// Private to the room: a connection to PostgreSQL from libpq's own text or URI. SOCI's way takes the text
// apart at every blank and equals sign, and spoils passwords and options that hold one.
#pragma once

#include <soci/postgresql/soci-postgresql.h>
#include <soci/soci.h>

#include <memory>
#include <string>

namespace firstdraw::store {

struct PostgresqlToTheLetter : soci::backend_factory {
  soci::postgresql_session_backend* make_session(
      const soci::connection_parameters& parameters) const override {
    return new soci::postgresql_session_backend(parameters, false);
  }
};

/// Throws soci_error.
inline std::unique_ptr<soci::session> connect_postgresql(const std::string& connect) {
  static const PostgresqlToTheLetter factory;
  return std::make_unique<soci::session>(factory, connect);
}

}  // namespace firstdraw::store
