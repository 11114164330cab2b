#pragma once
// Whose code a program dies in: its own, or that of a library it has called.

#include <cstddef>

namespace ridgeward::fuzz {

enum class Whose { ours, library };

/// Notes where the program's own code and the libraries lie. To be called once, early: libraries
/// that are loaded later count as foreign all the same.
void learn_modules();

/// Whose frames stand between here and the frame at `harness` (its __builtin_frame_address):
/// `library` when one of them is of a module other than this program. The language's and the
/// system's own libraries are nobody's: whoever called them answers for it. Runtimes of the
/// sanitizers are linked in and count like ours. A stack that can't be followed as far as the
/// harness has been overwritten, which only code without sanitizers can do unseen: `library`. A
/// library's function that ends in a jump has no frame: what it jumps to counts as called by us.
///
/// May be called in a signal handler.
Whose whose_frames(const void* harness);

/// Makes it look as if a call to a place without code had returned, so that the stack can be
/// followed. `context` is what a handler of signals gets.
void undo_wild_call(void* context, const void* harness);

}  // namespace ridgeward::fuzz
