// Threads that work ahead give way to the window.
#pragma once

#include <exception>
#include <string>

namespace ropeline {

/// This thread, and those it starts from now on, give way to the window's where both want the processor, the more
/// the higher `nice` (0 to 19; 5 leaves it a third as much as the window, 10 a tenth: sched(7)). Without effect
/// where the system knows no such thing.
void work_in_background(int nice);

/// Why such a thread ended before its time, one line; empty where it did not.
std::string why_it_ended(const std::exception_ptr& error);

} // namespace ropeline
