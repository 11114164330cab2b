#include "document/history.hpp"

#include "base/fault.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <system_error>
#include <unistd.h>

namespace ridgeward::document {

namespace {

/// A number and four texts, one after the other, each text behind its length.
std::string packed(const Step& step) {
  std::string bytes;
  const auto number = [&](std::uint64_t value) {
    std::array<char, sizeof(value)> raw{};
    std::memcpy(raw.data(), &value, sizeof(value));
    bytes.append(raw.data(), raw.size());
  };
  number(step.at);
  for (const std::string* text : {&step.name, &step.merge, &step.before, &step.after}) {
    number(text->size());
    bytes += *text;
  }
  return bytes;
}

Step unpacked(const std::string& bytes) {
  Step step;
  std::size_t at = 0;
  const auto number = [&] {
    std::uint64_t value = 0;
    ensure(at + sizeof(value) <= bytes.size(), "a step comes back whole from its file");
    std::memcpy(&value, bytes.data() + at, sizeof(value));
    at += sizeof(value);
    return static_cast<std::size_t>(value);
  };
  step.at = number();
  for (std::string* text : {&step.name, &step.merge, &step.before, &step.after}) {
    const std::size_t size = number();
    ensure(size <= bytes.size() - at, "a step comes back whole from its file");
    *text = bytes.substr(at, size);
    at += size;
  }
  return step;
}

std::size_t bytes_of(const Step& step) {
  return sizeof(Step) + step.name.size() + step.merge.size() + step.before.size() +
         step.after.size();
}

}  // namespace

/// A file without a name.
struct StepPile::File {
  explicit File(const std::string& folder) {
    std::error_code error;
    const std::string place =
        folder.empty() ? std::filesystem::temp_directory_path(error).string() : folder;
    std::filesystem::create_directories(place, error);
    handle = open(place.c_str(), O_TMPFILE | O_RDWR | O_CLOEXEC, 0600);
    if (handle < 0) {  // a file system that has none
      std::string name = place + "/steps-XXXXXX";
      handle = mkostemp(name.data(), O_CLOEXEC);
      if (handle >= 0) {
        unlink(name.c_str());
      }
    }
  }
  File(const File&) = delete;
  File& operator=(const File&) = delete;
  ~File() {
    if (handle >= 0) {
      close(handle);
    }
  }

  bool write(const std::string& bytes, std::size_t at) const {
    std::size_t done = 0;
    while (handle >= 0 && done < bytes.size()) {
      const ssize_t count =
          pwrite(handle, bytes.data() + done, bytes.size() - done, static_cast<off_t>(at + done));
      if (count <= 0) {
        return false;
      }
      done += static_cast<std::size_t>(count);
    }
    return handle >= 0;
  }
  std::string read(std::size_t at, std::size_t size) const {
    std::string bytes(size, '\0');
    std::size_t done = 0;
    while (done < size) {
      const ssize_t count =
          pread(handle, bytes.data() + done, size - done, static_cast<off_t>(at + done));
      ensure(count > 0, "a step comes back whole from its file");
      done += static_cast<std::size_t>(count);
    }
    return bytes;
  }
  int handle = -1;
};

void StepPile::put(Step step) {
  held_ += bytes_of(step);
  near_.push_back(std::move(step));
  if (held_ > most_held && has_file_ && near_.size() > 1) {
    lay_down();
  }
}

Step StepPile::take() {
  ensure(!empty(), "a step is taken from a pile that has one");
  Step step = std::move(near_.back());
  near_.pop_back();
  held_ -= bytes_of(step);
  if (near_.empty() && !deep_.empty()) {
    lift_up();
  }
  return step;
}

void StepPile::clear() {
  near_.clear();
  deep_.clear();
  held_ = end_ = 0;
}

/// The lower half into the file, in one go.
void StepPile::lay_down() {
  if (file_ == nullptr) {
    file_ = std::make_shared<File>(folder_);
  }
  std::string bytes;
  std::vector<std::size_t> places;
  std::size_t left = held_;
  std::size_t count = 0;
  while (count + 1 < near_.size() && left > most_held / 2) {
    places.push_back(end_ + bytes.size());
    bytes += packed(near_[count]);
    left -= bytes_of(near_[count++]);
  }
  if (!file_->write(bytes, end_)) {
    has_file_ = false;  // all stays in memory from now on
    return;
  }
  near_.erase(near_.begin(), near_.begin() + static_cast<std::ptrdiff_t>(count));
  deep_.insert(deep_.end(), places.begin(), places.end());
  end_ += bytes.size();
  held_ = left;
}

/// About half of what may be held, out of the file.
void StepPile::lift_up() {
  while (!deep_.empty() && (near_.empty() || held_ < most_held / 2)) {
    near_.push_front(unpacked(file_->read(deep_.back(), end_ - deep_.back())));
    held_ += bytes_of(near_.front());
    end_ = deep_.back();
    deep_.pop_back();
  }
}

Step History::between(const std::string& before, const std::string& after) {
  const std::size_t most = std::min(before.size(), after.size());
  std::size_t head = 0;
  while (head < most && before[head] == after[head]) {
    ++head;
  }
  std::size_t tail = 0;
  while (tail < most - head && before[before.size() - 1 - tail] == after[after.size() - 1 - tail]) {
    ++tail;
  }
  Step step;
  step.at = head;
  step.before = before.substr(head, before.size() - head - tail);
  step.after = after.substr(head, after.size() - head - tail);
  return step;
}

void History::take(std::string text, std::string name, std::string merge) {
  if (text == text_) {
    return;
  }
  const bool goes_on =
      is_open_ && can_undo() && !can_redo() && !merge.empty() && done_.top().merge == merge;
  if (goes_on) {
    undo();
  }
  undone_.clear();
  is_open_ = true;
  if (text == text_) {
    return;  // a drag that came back to where it began
  }
  Step step = between(text_, text);
  step.name = std::move(name);
  step.merge = std::move(merge);
  done_.put(std::move(step));
  text_ = std::move(text);
}

void History::undo() {
  ensure(can_undo(), "there is a step to undo");
  Step step = done_.take();
  text_.replace(step.at, step.after.size(), step.before);
  undone_.put(std::move(step));
  is_open_ = false;
}

void History::redo() {
  ensure(can_redo(), "there is a step to do again");
  Step step = undone_.take();
  text_.replace(step.at, step.before.size(), step.after);
  done_.put(std::move(step));
  is_open_ = false;
}

}  // namespace ridgeward::document
