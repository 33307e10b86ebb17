// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QProcess>

#include <filesystem>
#include <memory>
#include <string>

namespace milehold::test {

/// A private PostgreSQL cluster for the tests of one program: in memory where there is room, on the loopback
/// network and a socket, with checksums and a certificate of its own. Started at the first use; goes down
/// with the program, even when that is killed. Run by root it works as the user `postgres` or `nobody`, which
/// the server insists on.
///
/// Its keeper's password stands in a password file that PGPASSFILE names from then on.
class PostgresqlServer {
public:
    /// Throws std::runtime_error with what is missing or went wrong: a test that needs a server fails without
    /// one.
    static PostgresqlServer& shared();
    ~PostgresqlServer();
    PostgresqlServer(const PostgresqlServer&) = delete;
    PostgresqlServer& operator=(const PostgresqlServer&) = delete;

    /// A new database with our schema in it and no shop; its address.
    std::string makeDatabase();
    /// The address of a database for another user or other options: `address("shop_3", "mara",
    /// "?sslmode=require")`.
    std::string address(const std::string& database, const std::string& user = "keeper",
                        const std::string& options = "") const;
    /// Runs SQL as the keeper; the first column of the first row as text. Throws on failure.
    std::string ask(const std::string& database, const std::string& sql) const;

    int port() const { return port_; }
    const std::filesystem::path& folder() const { return folder_; }
    std::filesystem::path certificate() const { return folder_ / "server.crt"; }
    std::filesystem::path log() const { return folder_ / "server.log"; }
    long processId() const { return static_cast<long>(process_->processId()); }

    void start();
    /// For up to half a minute: a server that has just been started, or that replays its log after a crash.
    void waitUntilItAnswers() const;
    /// With a signal of the server's: SIGINT ends every session and stops in good order, SIGQUIT at once.
    void stop(int signal);
    /// Adds a log-in whose password is the keeper's, and makes it a member of a role.
    void addPerson(const std::string& name, const std::string& role) const;

private:
    PostgresqlServer();
    void makeCluster();
    QProcess* newProcess() const;
    void run(const std::string& program, const QStringList& arguments) const;
    bool answers() const;

    std::filesystem::path folder_;
    std::filesystem::path programs_;
    unsigned user_ = 0; ///< whom the server runs as
    unsigned group_ = 0;
    int port_ = 0;
    int databases_ = 0;
    std::unique_ptr<QProcess> process_;
};

} // namespace milehold::test
