#include "publish/postgres_server.h"

#include <fmt/core.h>

#include <arpa/inet.h>
#include <pwd.h>
#include <sys/socket.h>
#include <unistd.h>

#include <cstdlib>
#include <stdexcept>

namespace ropeline::test {
namespace {

constexpr const char* programs = "/usr/lib/postgresql/15/bin";
constexpr const char* not_root =
    "postgres"; // Debian's package makes this user; the server refuses to run as root

int free_port() {
    const int listener = ::socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    socklen_t size = sizeof address;
    ::bind(listener, reinterpret_cast<sockaddr*>(&address), size);
    ::getsockname(listener, reinterpret_cast<sockaddr*>(&address), &size);
    ::close(listener);
    return ntohs(address.sin_port);
}

} // namespace

bool PostgresServer::is_installed() {
    return std::filesystem::exists(std::string{programs} + "/initdb") &&
           (::geteuid() != 0 || ::getpwnam(not_root) != nullptr);
}

PostgresServer::PostgresServer() : port_(free_port()) {
    std::string name = "/tmp/ropeline-pg-XXXXXX"; // short: a socket's path has 107 letters at most
    folder_ = ::mkdtemp(name.data());
    if (::geteuid() == 0) {
        const passwd* user = ::getpwnam(not_root);
        if (::chown(folder_.c_str(), user->pw_uid, user->pw_gid) != 0) throw std::runtime_error("chown");
    }
    run("initdb", fmt::format("-D {0}/data -U owner -E UTF8 --locale=C.UTF-8 --no-sync --auth-local=trust "
                              "--auth-host=scram-sha-256",
                              folder_.string()));
    start();
}

PostgresServer::~PostgresServer() {
    try {
        kill();
    } catch (const std::exception&) { // it was stopped already
    }
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
}

void PostgresServer::start() {
    run("pg_ctl", fmt::format("-D {0}/data -w -s -l {0}/log -o \"-c listen_addresses=127.0.0.1 -c port={1} "
                              "-c unix_socket_directories={0} -c shared_buffers=16MB\" start",
                              folder_.string(), port_));
}

void PostgresServer::kill() {
    run("pg_ctl", fmt::format("-D {}/data -w -s -m immediate stop", folder_.string()));
}

std::string PostgresServer::to() const {
    return fmt::format("postgresql://owner@/postgres?host={}&port={}", folder_.string(), port_);
}

std::string PostgresServer::by_loopback(const std::string& user) const {
    return fmt::format("postgresql://{}@127.0.0.1:{}/postgres", user, port_);
}

void PostgresServer::run(const std::string& program, const std::string& arguments) const {
    const std::string as_user = ::geteuid() == 0 ? fmt::format("runuser -u {} -- ", not_root) : std::string{};
    const std::string command =
        fmt::format("cd {} && {}{}/{} {} > {}/out.txt 2>&1 < /dev/null", folder_.string(), as_user, programs,
                    program, arguments, folder_.string());
    if (std::system(command.c_str()) != 0) throw std::runtime_error("failed: " + command);
}

} // namespace ropeline::test
