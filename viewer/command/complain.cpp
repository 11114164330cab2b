#include "command/complain.hpp"

#include <cstdio>

namespace ridgeward::command {

std::string in_words(const std::string& file, const Fault& fault) {
  std::string place = file;
  if (!fault.where.empty() && fault.where != file) {
    place += (place.empty() ? "" : " at ") + fault.where;
  }
  std::string text = place.empty() ? fault.what : place + ": " + fault.what;
  if (!fault.cure.empty()) {
    text += "\n  cure: " + fault.cure;
  }
  return text;
}

void complain(const std::string& file, const Faults& faults) {
  for (const Fault& fault : faults) {
    std::fputs(("ridgeward: " + in_words(file, fault) + "\n").c_str(), stderr);
  }
}

}  // namespace ridgeward::command
