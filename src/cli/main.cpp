#include <iostream>

#include "cli/app.hpp"

int main(int argc, char** argv) {
  const std::vector<std::string> arguments(argv + (argc > 0 ? 1 : 0), argv + argc);
  return firstdraw::cli::run(arguments, std::cout, std::cerr, firstdraw::cli::look_around());
}
