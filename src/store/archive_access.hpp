// Private to the room: how the archive's functions come to the store's transactions.
#pragma once

#include <soci/soci.h>

#include <functional>

#include "store/address.hpp"
#include "store/store.hpp"

namespace firstdraw::store {

struct ArchiveAccess {
  using Work = std::function<void(soci::session&)>;
  static Result<void> read(const Store& store, const Work& work);
  static Result<void> write(Store& store, const Work& work);
  static Dialect dialect(const Store& store);
};

}  // namespace firstdraw::store
