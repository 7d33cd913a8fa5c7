// Lists the columns that a description of room job asks for, in order; a visitor for describe.hpp.
#pragma once

#include "desk/columns.hpp"
#include "job/describe_week.hpp"

namespace firstdraw::desk {

/// "temperature_difference", as columns name what they measure.
std::string name_of(units::Kind kind);
/// The table whose rows are meant: "runs".
std::string table_of(job::Target target);
std::vector<std::string> pipe_materials();
std::vector<std::string> pipe_types();
std::vector<std::string> insulation_names();

class ColumnLister {
 public:
  explicit ColumnLister(const Setting& setting) : setting_(setting) {}
  std::vector<Column> columns;

  void id(std::string_view key, const std::string&, job::Target) { add(key, "id", true); }
  void node(std::string_view key, const std::string&) { refer(key, job::Target::node, true); }
  void text(std::string_view key, const std::string&, const job::Need<std::string>& need) {
    add(key, "text", is_error(need));
  }
  void text_or_number(std::string_view key, const std::string&) { add(key, "text", false); }
  void known(std::string_view key, const std::string&, const std::vector<std::string>& names,
             const job::Need<std::string>& need) {
    add(key, "choice", is_error(need)).choices = names;
  }
  template <class E, std::size_t n>
  void choice(std::string_view key, const E&, const std::array<job::Named<E>, n>& choices,
              const job::Need<std::type_identity_t<E>>& need) {
    add(key, "choice", is_error(need)).choices = job::names_of(choices);
  }
  void quantity(std::string_view key, double, units::Kind kind, const job::Range&,
                const job::Need<double>& need) {
    add(key, "quantity", is_error(need)).measures = name_of(kind);
  }
  void optional_quantity(std::string_view key, const std::optional<double>&, units::Kind kind,
                         const job::Range&) {
    add(key, "quantity", false).measures = name_of(kind);
  }
  void quantities(std::string_view key, const std::vector<double>&, units::Kind kind, const job::Range&,
                  const job::Need<std::vector<double>>& need) {
    add(key, "list", is_error(need)).measures = name_of(kind);
  }
  void number(std::string_view key, double, const job::Range&, const job::Need<double>& need) {
    add(key, "number", is_error(need));
  }
  void integer(std::string_view key, int, const job::Range&, const job::Need<int>& need) {
    add(key, "integer", is_error(need));
  }
  void optional_integer(std::string_view key, const std::optional<int>&, const job::Range&) {
    add(key, "integer", false);
  }
  void flag(std::string_view key, bool, const job::Need<bool>& need) { add(key, "flag", is_error(need)); }
  void price(std::string_view key, double, std::string_view, units::Kind, const job::Need<double>& need) {
    add(key, "quantity", is_error(need)).measures = "price";
  }
  void reference(std::string_view key, const std::string&, job::Target target,
                 const job::Need<std::string>& need) {
    refer(key, target, is_error(need));
  }
  void optional_reference(std::string_view key, const std::optional<std::string>&, job::Target target) {
    refer(key, target, false);
  }
  void references(std::string_view key, const std::vector<std::string>&, job::Target target,
                  std::string_view) {
    refer(key, target, false).kind = "list";
  }
  void members(std::string_view key, const std::vector<std::string>&, job::Target target) {
    refer(key, target, true).kind = "list";
  }
  void pipe(std::string_view prefix, const physics::Pipe&) {
    const std::string before(prefix);
    add(before + "material", "choice", true).choices = pipe_materials();
    add(before + "type", "choice", false).choices = pipe_types();
    add(before + "size", "quantity", true).measures = name_of(units::Kind::size);
  }
  void insulation(std::string_view key, const std::string&, const job::Need<std::string>& need) {
    add(key, "choice", is_error(need)).choices = insulation_names();
  }
  void numbers(std::string_view key, const std::vector<double>&, std::size_t) {
    add(key, "list", false).measures = "number";
  }
  template <class T>
  void spelled(std::string_view key, const T&, const job::Spelling<T>& spelling,
               const job::Need<std::type_identity_t<T>>& need) {
    add(key, "text", is_error(need)).measures = spelling_name(&spelling);
  }
  template <class T>
  void optional_spelled(std::string_view key, const std::optional<T>&, const job::Spelling<T>& spelling) {
    add(key, "text", false).measures = spelling_name(&spelling);
  }
  template <class T>
  void spelled_list(std::string_view key, const std::vector<T>&, const job::Spelling<T>& spelling,
                    std::string_view) {
    add(key, "list", false).measures = spelling_name(&spelling);
  }

 private:
  template <class T>
  static bool is_error(const job::Need<T>& need) {
    return need.missing == job::Missing::error;
  }
  static std::string spelling_name(const void* spelling);
  Column& refer(std::string_view key, job::Target target, bool required);
  Column& add(std::string_view key, std::string kind, bool required);

  const Setting& setting_;
};

}  // namespace firstdraw::desk
