#include "publish/publish.h"

#include "publish/server_words.h"

#include <fmt/core.h>
#include <libpq-fe.h>

#include <memory>
#include <string_view>

namespace ropeline {

void check_target(const std::string& to) {
    char* trouble = nullptr;
    const std::unique_ptr<PQconninfoOption, void (*)(PQconninfoOption*)> options{
        PQconninfoParse(to.c_str(), &trouble), PQconninfoFree};
    const std::unique_ptr<char, void (*)(void*)> words{trouble, PQfreemem};
    if (!options)
        // libpq repeats what it could not read, and that may be a password.
        throw WrongTarget(
            "this is no place to publish to. Write it like postgresql://user@host/database, or service=NAME");
    for (const PQconninfoOption* option = options.get(); option->keyword; ++option) {
        const std::string_view keyword = option->keyword;
        if ((keyword == "password" || keyword == "sslpassword") && option->val)
            throw WrongTarget(
                "a password on the command line can be seen by others. Leave it out, and put it into "
                "~/.pgpass "
                "(host:port:database:user:password, readable by you alone) or the service file");
    }
}

std::string server_words(std::string_view text) {
    std::string line;
    for (const char letter : text) {
        const bool blank = letter == '\n' || letter == '\r' || letter == '\t';
        if (blank && (line.empty() || line.back() == ' ')) continue;
        line += blank ? ' ' : letter;
    }
    while (!line.empty() && line.back() == ' ')
        line.pop_back();
    return line;
}

} // namespace ropeline
