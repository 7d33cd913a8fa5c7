// Lists the keys that a description asks for, in order; a visitor for describe.hpp.
#pragma once

#include "job/context.hpp"
#include "job/fields.hpp"
#include "job/values.hpp"

namespace firstdraw::job {

struct Key {
  std::string name;
  bool has_unit = false;  // a unit may stand in the heading
  bool required = false;
  units::Kind kind{};  // when it has a unit
};

class KeyLister {
 public:
  std::vector<Key> keys;

  void id(std::string_view key, const std::string&, Target) { add(key, true); }
  void node(std::string_view key, const std::string&) { add(key, true); }
  void text(std::string_view key, const std::string&, const Need<std::string>& need) {
    add(key, is_error(need));
  }
  void text_or_number(std::string_view key, const std::string&) { add(key, false); }
  void known(std::string_view key, const std::string&, const std::vector<std::string>&,
             const Need<std::string>& need) {
    add(key, is_error(need));
  }
  template <class E, std::size_t n>
  void choice(std::string_view key, const E&, const std::array<Named<E>, n>&,
              const Need<std::type_identity_t<E>>& need) {
    add(key, is_error(need));
  }
  void quantity(std::string_view key, double, units::Kind kind, const Range&, const Need<double>& need) {
    keys.push_back({std::string(key), true, is_error(need), kind});
  }
  void optional_quantity(std::string_view key, const std::optional<double>&, units::Kind kind, const Range&) {
    keys.push_back({std::string(key), true, false, kind});
  }
  void quantities(std::string_view key, const std::vector<double>&, units::Kind, const Range&,
                  const Need<std::vector<double>>& need) {
    add(key, is_error(need));
  }
  void number(std::string_view key, double, const Range&, const Need<double>& need) {
    add(key, is_error(need));
  }
  void integer(std::string_view key, int, const Range&, const Need<int>& need) { add(key, is_error(need)); }
  void optional_integer(std::string_view key, const std::optional<int>&, const Range&) { add(key, false); }
  void flag(std::string_view key, bool, const Need<bool>& need) { add(key, is_error(need)); }
  void price(std::string_view key, double, std::string_view, units::Kind, const Need<double>& need) {
    add(key, is_error(need));
  }
  void reference(std::string_view key, const std::string&, Target, const Need<std::string>& need) {
    add(key, is_error(need));
  }
  void optional_reference(std::string_view key, const std::optional<std::string>&, Target) {
    add(key, false);
  }
  void references(std::string_view key, const std::vector<std::string>&, Target, std::string_view) {
    add(key, false);
  }
  void members(std::string_view key, const std::vector<std::string>&, Target) { add(key, true); }
  template <class T>
  void rows(std::string_view key, const std::vector<T>&, std::size_t least) {
    add(key, least > 0);
  }
  void pipe(std::string_view prefix, const physics::Pipe&) {
    add(std::string(prefix) + "material", true);
    add(std::string(prefix) + "type", false);
    keys.push_back({std::string(prefix) + "size", true, true, units::Kind::size});
  }
  void insulation(std::string_view key, const std::string&, const Need<std::string>& need) {
    add(key, is_error(need));
  }
  void numbers(std::string_view key, const std::vector<double>&, std::size_t) { add(key, false); }
  template <class T>
  void spelled(std::string_view key, const T&, const Spelling<T>&,
               const Need<std::type_identity_t<T>>& need) {
    add(key, is_error(need));
  }
  template <class T>
  void optional_spelled(std::string_view key, const std::optional<T>&, const Spelling<T>&) {
    add(key, false);
  }
  template <class T>
  void spelled_list(std::string_view key, const std::vector<T>&, const Spelling<T>&, std::string_view) {
    add(key, false);
  }

 private:
  template <class T>
  static bool is_error(const Need<T>& need) {
    return need.missing == Missing::error;
  }
  void add(std::string_view key, bool required) { keys.push_back({std::string(key), false, required, {}}); }
};

}  // namespace firstdraw::job
