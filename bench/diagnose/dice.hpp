// Chance of the bench: even spreads and heavy tails, from a seed.
#pragma once

#include <random>

namespace firstdraw::bench {

using Dice = std::mt19937_64;
double even(Dice& dice, double low, double high);
/// Student's t with 3 degrees of freedom, scaled to a standard deviation near `sigma`, at most 6 of them.
double heavy(Dice& dice, double sigma);

}  // namespace firstdraw::bench
