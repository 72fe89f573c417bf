// A PostgreSQL server of Debian's packages, in a folder of its own, on a socket in it and on the loopback address.
#pragma once

#include <filesystem>
#include <string>

namespace ropeline::test {

class PostgresServer {
public:
    /// Whether the packages are there.
    static bool is_installed();

    PostgresServer();
    ~PostgresServer();
    PostgresServer(const PostgresServer&) = delete;
    PostgresServer& operator=(const PostgresServer&) = delete;

    void start();
    void kill(); ///< as a power cut leaves it: no process gets to tidy up

    /// The owner's way in: over the socket, no password asked.
    std::string to() const;
    /// Over the loopback address, where a password is asked.
    std::string by_loopback(const std::string& user) const;
    int port() const { return port_; }

    const std::filesystem::path& folder() const { return folder_; }

private:
    void run(const std::string& program, const std::string& arguments) const;
    std::filesystem::path folder_;
    int port_ = 0;
};

} // namespace ropeline::test
