#include "store/archive_access.hpp"

#include "store/session.hpp"

namespace firstdraw::store {

Result<void> ArchiveAccess::read(const Store& store, const Work& work) {
  return store.inside_->run(Store::Inside::Access::read, work, {});
}
Result<void> ArchiveAccess::write(Store& store, const Work& work) {
  return store.inside_->run(Store::Inside::Access::write, work, {});
}
Dialect ArchiveAccess::dialect(const Store& store) { return store.inside_->dialect(); }

}  // namespace firstdraw::store
