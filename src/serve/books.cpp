#include "serve/books.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <tuple>

#include "paper/record_body.hpp"
#include "store/address.hpp"

namespace firstdraw::serve {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t views_kept = 3;

bool is_not_there(const std::string& where) {
  const auto address = store::parse_address(where);
  std::error_code ignored;
  return address && address->dialect == store::Dialect::sqlite && !fs::exists(address->path, ignored);
}

std::optional<prove::Grade> grade_of(const prove::Due& due, const Looks& looks) {
  if (!due.looked_at) return due.grade;
  const auto look = looks.find({due.test, due.circuit});
  if (look == looks.end()) return std::nullopt;
  return look->second.ok ? prove::Grade::pass : prove::Grade::fail;
}

std::string state_of(std::span<const prove::Due> due, const Looks& looks, const std::string& circuit) {
  std::size_t asked = 0, answered = 0;
  prove::Grade worst = prove::Grade::pass;
  for (const prove::Due& each : due) {
    if (each.circuit != circuit) continue;
    ++asked;
    const auto grade = grade_of(each, looks);
    if (!grade) continue;
    ++answered;
    worst = std::max(worst, *grade);
  }
  if (answered == 0) return "none";
  if (worst == prove::Grade::fail) return "fail";
  if (worst == prove::Grade::doubt) return "doubt";
  return answered == asked ? "all" : "some";
}

TestStates states_of(const plan::Plan& plan, std::span<const prove::Due> due, const Looks& looks) {
  TestStates states;
  for (const power::Circuit& circuit : plan.circuits) states[circuit.id] = state_of(due, looks, circuit.id);
  return states;
}

}  // namespace

Books::Book& Books::book_of(OpenJob& job) {
  const std::lock_guard lock(mutex_);
  auto& book = books_[job.id()];
  if (!book) book = std::make_unique<Book>();
  return *book;
}

std::string Books::where(OpenJob& job) const {
  return store_.empty() ? (job.desk().folder() / "records.db").string() : store_;
}

Maybe<std::shared_ptr<store::Store>> Books::open(OpenJob& job, Book& book, bool create) {
  if (book.store) return book.store;
  const std::string place = where(job);
  if (!create && is_not_there(place)) return std::shared_ptr<store::Store>();
  auto opened = store::Store::open(place, create);
  if (!opened) return refuse(opened.error());
  book.store = std::make_shared<store::Store>(*std::move(opened));
  return book.store;
}

Maybe<void> Books::refresh(OpenJob& job, Book& book) {
  const auto store = open(job, book, false);
  if (!store) return std::unexpected(store.error());
  const std::int64_t next = book.records.empty() ? 1 : book.records.back().number + 1;
  std::vector<store::Record> fresh;
  if (*store) {
    auto read = (*store)->records(job.id(), {std::nullopt, next, true});
    if (!read) return refuse(read.error());
    fresh = *std::move(read);
  }
  for (store::Record& record : fresh) {
    if (book.looked_before)
      events_.publish("record", job.id(),
                      {{"job", job.id()},
                       {"number", record.number},
                       {"entry", record.entry ? nlohmann::json(*record.entry) : nlohmann::json()}});
    book.records.push_back(std::move(record));
  }
  book.looked_before = true;
  return {};
}

Maybe<BookHandle> Books::view(OpenJob& job, const Looked& looked) {
  Book& book = book_of(job);
  const std::lock_guard lock(book.mutex);
  if (auto fresh = refresh(job, book); !fresh) return std::unexpected(std::move(fresh.error()));
  const std::int64_t last = book.records.empty() ? 0 : book.records.back().number;
  for (const BookHandle& view : book.views)
    if (view->revision == looked.revision && view->last_record == last && view->units == looked.job().units)
      return view;
  auto field = paper::field_book_of({where(job), book.records, {}}, looked.job(), looked.plan());
  if (!field) return refuse(std::move(field.error()));
  auto view = std::make_shared<BookView>();
  view->revision = looked.revision;
  view->last_record = last;
  view->units = looked.job().units;
  view->looks = looks_of(field->records);
  view->tests = states_of(looked.plan(), field->due, view->looks);
  view->field = *std::move(field);
  if (book.views.size() >= views_kept) book.views.erase(book.views.begin());
  book.views.push_back(view);
  return view;
}

Maybe<std::vector<store::Record>> Books::records(OpenJob& job) {
  Book& book = book_of(job);
  const std::lock_guard lock(book.mutex);
  if (auto fresh = refresh(job, book); !fresh) return std::unexpected(std::move(fresh.error()));
  return book.records;
}

Maybe<std::optional<store::Record>> Books::find(OpenJob& job, const std::string& entry) {
  Book& book = book_of(job);
  const std::lock_guard lock(book.mutex);
  if (auto fresh = refresh(job, book); !fresh) return std::unexpected(std::move(fresh.error()));
  const auto found =
      std::ranges::find_if(book.records, [&entry](const store::Record& each) { return each.entry == entry; });
  return found == book.records.end() ? std::nullopt : std::optional(*found);
}

Maybe<std::pair<store::Record, bool>> Books::append(OpenJob& job, const store::Draft& draft) {
  Book& book = book_of(job);
  const std::lock_guard lock(book.mutex);
  if (auto fresh = refresh(job, book); !fresh) return std::unexpected(std::move(fresh.error()));
  const auto known = std::ranges::find_if(
      book.records, [&](const store::Record& each) { return draft.entry && each.entry == draft.entry; });
  if (known != book.records.end() && paper::says_the_same(*known, draft)) return std::pair{*known, true};
  const auto store = open(job, book, true);
  if (!store) return std::unexpected(store.error());
  auto kept = (*store)->append(job.id(), draft);
  if (!kept) return refuse(kept.error());
  if (auto fresh = refresh(job, book); !fresh) return std::unexpected(std::move(fresh.error()));
  return std::pair{*std::move(kept), false};
}

Maybe<store::Attachment> Books::put_file(OpenJob& job, const std::string& name, const std::string& media_type,
                                         const std::string& bytes) {
  Book& book = book_of(job);
  const std::lock_guard lock(book.mutex);
  const auto store = open(job, book, true);
  if (!store) return std::unexpected(store.error());
  auto kept = (*store)->put_file(name, media_type, bytes);
  if (!kept) return refuse(kept.error());
  return *std::move(kept);
}

std::optional<std::string> Books::file(OpenJob& job, const std::string& sha256) {
  Book& book = book_of(job);
  const std::lock_guard lock(book.mutex);
  const auto store = open(job, book, false);
  if (!store || !*store) return std::nullopt;
  auto bytes = (*store)->file(sha256);
  if (!bytes) return std::nullopt;
  return *std::move(bytes);
}

Maybe<std::optional<paper::Recorded>> Books::recorded(OpenJob& job) {
  Book& book = book_of(job);
  const std::lock_guard lock(book.mutex);
  if (auto fresh = refresh(job, book); !fresh) return std::unexpected(std::move(fresh.error()));
  if (!book.store || book.records.empty()) return std::nullopt;
  auto chain = book.store->verify(job.id());
  if (!chain) return refuse(chain.error());
  return paper::Recorded{book.store->where(), book.records, *std::move(chain)};
}

void Books::look(OpenJob& job) {
  Book& book = book_of(job);
  const std::lock_guard lock(book.mutex);
  std::ignore = refresh(job, book);  // what is wrong with the store is said when somebody asks for it
}

}  // namespace firstdraw::serve
