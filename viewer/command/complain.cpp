#include "command/complain.hpp"

#include <cctype>
#include <cstdio>
#include <filesystem>
#include <system_error>

namespace ridgeward::command {

namespace {

void tell(const char* opening, const Faults& faults) {
  for (const Fault& fault : faults) {
    std::fputs((opening + in_words(fault) + "\n").c_str(), stderr);
  }
}

}  // namespace

Faults placed(const std::string& file, Faults faults) {
  for (Fault& fault : faults) {
    fault.where = fault.where.empty() ? file : file + " at " + fault.where;
  }
  return faults;
}

std::string in_words(const Fault& fault) {
  std::string text = fault.where.empty() ? fault.what : fault.where + ": " + fault.what;
  if (!fault.cure.empty()) {
    text += "\n  cure: " + fault.cure;
  }
  return text;
}

std::string in_plain_words(const Fault& fault) {
  const auto sentence = [](std::string words) {
    if (!words.empty()) {
      words.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(words.front())));
      words += words.back() == '.' ? "" : ".";
    }
    return words;
  };
  if (fault.code.starts_with("file.")) {
    return in_words(fault);  // there the place is what it is about
  }
  const std::string cure = sentence(fault.cure);
  return sentence(fault.what) + (cure.empty() ? "" : "\n" + cure);
}

void complain(const Faults& faults) { tell("ridgeward: ", faults); }

void warn(const Faults& warnings) { tell("ridgeward: warning: ", warnings); }

Faults would_replace(const std::string& input, const std::string& output) {
  std::error_code error;
  if (output == "-" || !std::filesystem::equivalent(input, output, error)) {
    return {};
  }
  return {{"file.same", output, "writing this would replace the file that is read",
           "give another name for what is written"}};
}

}  // namespace ridgeward::command
