// The books of records of the jobs that are served: what was measured, and what the tests of every circuit
// stand at. Records of other programs are seen too.
#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "paper/recorded.hpp"
#include "serve/events.hpp"
#include "serve/jobs.hpp"
#include "serve/looks.hpp"
#include "serve/view_json.hpp"
#include "store/store.hpp"

namespace firstdraw::serve {

/// A book judged by a job as it stands.
struct BookView {
  std::int64_t revision = 0, last_record = 0;
  units::System units{};
  paper::FieldBook field;  // without the chain
  Looks looks;
  TestStates tests;
};
using BookHandle = std::shared_ptr<const BookView>;

class Books {
 public:
  /// `store`: of all jobs; empty: records.db in each job's folder.
  Books(std::string store, Events& events) : store_(std::move(store)), events_(events) {}

  Maybe<BookHandle> view(OpenJob& job, const Looked& looked);
  /// All of the book; a store that is not there yet has none.
  Maybe<std::vector<store::Record>> records(OpenJob& job);
  /// The record of this entry; none: the book has none.
  Maybe<std::optional<store::Record>> find(OpenJob& job, const std::string& entry);
  /// The record, and whether it was there already: a draft whose entry the book has is that record when what
  /// was sent is the same. What the program adds by itself (verdicts, the chain that is signed for) may
  /// differ.
  Maybe<std::pair<store::Record, bool>> append(OpenJob& job, const store::Draft& draft);
  Maybe<store::Attachment> put_file(OpenJob& job, const std::string& name, const std::string& media_type,
                                    const std::string& bytes);
  /// Of the job's store; none: it is not there.
  std::optional<std::string> file(OpenJob& job, const std::string& sha256);
  /// What the pack prints, with the chain verified; none: nothing is recorded.
  Maybe<std::optional<paper::Recorded>> recorded(OpenJob& job);
  /// Looks for records of other programs and tells of them.
  void look(OpenJob& job);

 private:
  struct Book {
    std::mutex mutex;
    std::shared_ptr<store::Store> store;
    std::vector<store::Record> records;
    bool looked_before = false;
    std::vector<BookHandle> views;  // latest last
  };
  Book& book_of(OpenJob& job);
  std::string where(OpenJob& job) const;
  /// With book.mutex held.
  Maybe<std::shared_ptr<store::Store>> open(OpenJob& job, Book& book, bool create);
  Maybe<void> refresh(OpenJob& job, Book& book);

  const std::string store_;
  Events& events_;
  std::mutex mutex_;
  std::map<std::string, std::unique_ptr<Book>> books_;
};

}  // namespace firstdraw::serve
