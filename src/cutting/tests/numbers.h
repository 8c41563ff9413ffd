// Private to the tests: whole numbers drawn from a seed, the same on every machine.
#pragma once

#include <random>

namespace kw::cutting {

class Numbers {
 public:
  explicit Numbers(unsigned seed) : random_(seed) {}
  // In [from, to].
  int draw(int from, int to) {
    return from + static_cast<int>(random_() % static_cast<unsigned>(to - from + 1));
  }

 private:
  std::mt19937 random_;
};

}  // namespace kw::cutting
