#include "film/background.h"

#include "film/one_line.h"

#include <new>

#if defined(__linux__)
#include <sys/resource.h>
#include <sys/syscall.h>
#include <unistd.h>
#endif

namespace ropeline {

void work_in_background([[maybe_unused]] int nice) {
#if defined(__linux__)
    setpriority(PRIO_PROCESS, static_cast<id_t>(syscall(SYS_gettid)), nice);
#endif
}

std::string why_it_ended(const std::exception_ptr& error) {
    if (!error) return {};
    try {
        std::rethrow_exception(error);
    } catch (const std::bad_alloc&) {
        return "there is no memory left for it; close other programs";
    } catch (const std::exception& known) {
        return one_line(known.what());
    } catch (...) {
        return "for no known reason";
    }
}

} // namespace ropeline
