// What is wrong in a building that is visited: a cause, its place and how much, drawn evenly over the causes
// that can be there.
#pragma once

#include <optional>

#include "building.hpp"
#include "dice.hpp"
#include "prove/diagnosis.hpp"

namespace firstdraw::bench {

struct Planted {
  prove::Cause cause{};
  int circuit = -1, group = -1, run = -1, space = -1;  // of plan and job; those that apply
  double value = 0;                                    // as prove::Cause has it
  int sheet = -1;
};

/// This cause at a place of the building, somewhere by length of pipe; none: it cannot be there.
std::optional<Planted> plant_this(const Building& building, prove::Cause cause, Dice& dice);
/// Something wrong at a place where it can be, drawn evenly over the causes that can be.
Planted plant(const Building& building, Dice& dice);
/// Another thing wrong on the same circuit or what switches it; none: nothing fits beside the first.
std::optional<Planted> plant_beside(const Building& building, const Planted& first, Dice& dice);

}  // namespace firstdraw::bench
