#include "plugin/guard.hpp"

#include "base/utf8.hpp"
#include "plugin/apart.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cstdlib>
#include <utility>

namespace ridgeward::plugin {

namespace {

/// Loads the importer and lets it work; what goes wrong is sent.
template <class Work>
void with_importer(const std::string& library, const Sender& sender, Work work) {
  const Result<Importer> importer = Importer::load(library);
  if (importer) {
    work(importer.value());
  } else {
    sender.faults(importer.faults());
  }
}

void send_notes(const Sender& sender, const std::vector<std::string>& notes) {
  for (const std::string& note : notes) {
    sender.piece("note", note);
  }
}

/// In the child: what the importer says of its progress goes to the host, which ends the child
/// where nobody wants the answer any more.
GoOn sent_by(const Sender& sender) {
  return [&sender](double share_done) {
    sender.piece("share", fmt::format("{:.2f}", share_done));
    return true;
  };
}

/// In the host.
bool goes_on(const Job& job, const Piece& share, Faults& faults) {
  if (!job.go_on || job.go_on(std::strtod(share.text.c_str(), nullptr))) {
    return true;
  }
  faults.push_back({"importer.stopped", "", "the import was stopped", "import it again"});
  return false;
}

}  // namespace

Result<Imported> read_apart(const std::string& library, const Job& job, const Limits& limits) {
  Imported imported;
  Faults stopped;
  const auto work = [&](const Sender& sender) {
    with_importer(library, sender, [&](const Importer& importer) {
      const Result<Imported> read =
          importer.read(job.bytes, job.options, job.folder, sent_by(sender));
      if (!read) {
        sender.faults(read.faults());
        return;
      }
      sender.piece("json", read.value().json);
      send_notes(sender, read.value().notes);
    });
  };
  Faults faults = apart({"importer", library}, limits, work, [&](Piece piece) {
    if (piece.kind == "share") {
      return goes_on(job, piece, stopped);
    }
    if (piece.kind == "json") {
      imported.json = std::move(piece.text);
    } else {
      imported.notes.push_back(as_line(piece.text));
    }
    return true;
  });
  faults.insert(faults.end(), stopped.begin(), stopped.end());
  if (!faults.empty()) {
    return faults;
  }
  return imported;
}

Result<std::vector<std::string>> read_each_apart(const std::string& library, const Job& job,
                                                 const Limits& limits, const TakeEach& take) {
  std::vector<std::string> notes;
  Faults stopped;
  const auto work = [&](const Sender& sender) {
    with_importer(library, sender, [&](const Importer& importer) {
      const auto send = [&](std::string_view json) { sender.piece("json", json); };
      const Result<std::vector<std::string>> read =
          importer.read_each(job.bytes, job.options, job.folder, send, sent_by(sender));
      if (read) {
        send_notes(sender, read.value());
      } else {
        sender.faults(read.faults());
      }
    });
  };
  Faults faults = apart({"importer", library, true}, limits, work, [&](Piece piece) {
    if (piece.kind == "share") {
      return goes_on(job, piece, stopped);
    }
    if (piece.kind == "json") {
      return take(std::move(piece.text));
    }
    notes.push_back(as_line(piece.text));
    return true;
  });
  faults.insert(faults.end(), stopped.begin(), stopped.end());
  if (!faults.empty()) {
    return faults;
  }
  return notes;
}

Result<int> sniff_apart(const std::string& library, std::string_view head,
                        const std::string& file_name, const Limits& limits) {
  int sure = 0;
  const auto work = [&](const Sender& sender) {
    with_importer(library, sender, [&](const Importer& importer) {
      sender.piece("sure", std::to_string(importer.sniff(head, file_name)));
    });
  };
  Faults faults = apart({"importer", library}, limits, work, [&](const Piece& piece) {
    std::from_chars(piece.text.data(), piece.text.data() + piece.text.size(), sure);
    return true;
  });
  if (!faults.empty()) {
    return faults;
  }
  return sure;
}

}  // namespace ridgeward::plugin
