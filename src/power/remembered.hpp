// Answers that are kept by their question, as long as they are asked for.
#pragma once

#include <map>
#include <utility>

namespace firstdraw::power {

/// Answers by question; forgets what was not asked in the last two rounds.
template <class Question, class Answer>
class Remembered {
 public:
  /// `find` answers a question that is not known.
  const Answer& get(const Question& question, const auto& find) {
    if (const auto now = now_.find(question); now != now_.end()) return now->second;
    auto before = before_.extract(question);
    if (!before.empty()) return now_.insert(std::move(before)).position->second;
    return now_.emplace(question, find()).first->second;
  }
  void next_round() {
    before_ = std::move(now_);
    now_.clear();
  }

 private:
  std::map<Question, Answer> now_{}, before_{};
};

}  // namespace firstdraw::power
