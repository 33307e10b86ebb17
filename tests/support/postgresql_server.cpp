// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/postgresql_server.h"

#include "storage/server/setup_server.h"

#include <QSqlDatabase>
#include <QSqlError>
#include <QSqlQuery>
#include <QUuid>
#include <QVariant>

#include <arpa/inet.h>
#include <chrono>
#include <csignal>
#include <fstream>
#include <grp.h>
#include <netinet/in.h>
#include <pwd.h>
#include <stdexcept>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <thread>
#include <unistd.h>
#include <vector>

namespace milehold::test {

namespace fs = std::filesystem;

namespace {

constexpr const char* kPassword =
    "only for this test"; // of a server that nobody else can reach and that ends with it
constexpr const char* kTemplate = "shop_template";

[[noreturn]] void fail(const std::string& what) {
    throw std::runtime_error("the tests' PostgreSQL: " + what);
}

fs::path findPrograms() {
    // Debian keeps the server's programs out of the search path, a folder a version.
    std::vector<fs::path> found;
    std::error_code none;
    for (const auto& version : fs::directory_iterator("/usr/lib/postgresql", none))
        if (fs::exists(version.path() / "bin" / "initdb", none))
            found.push_back(version.path() / "bin");
    if (found.empty())
        fail("no initdb below /usr/lib/postgresql; `bash resources/packaging/install-packages.sh tests` "
             "installs it");
    std::sort(found.begin(), found.end());
    return found.back();
}

int freePort() {
    const int listener = ::socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in here{};
    here.sin_family = AF_INET;
    here.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    socklen_t size = sizeof(here);
    if (listener < 0 || ::bind(listener, reinterpret_cast<sockaddr*>(&here), size) != 0 ||
        ::getsockname(listener, reinterpret_cast<sockaddr*>(&here), &size) != 0)
        fail("no free port on the loopback network");
    ::close(listener);
    return ntohs(here.sin_port);
}

void write(const fs::path& file, const std::string& text, bool append = false) {
    std::ofstream out(file, append ? std::ios::app : std::ios::trunc);
    out << text;
    if (!out.flush())
        fail("cannot write " + file.string());
}

} // namespace

PostgresqlServer& PostgresqlServer::shared() {
    static PostgresqlServer server;
    return server;
}

PostgresqlServer::PostgresqlServer() : programs_(findPrograms()), user_(::geteuid()), group_(::getegid()) {
    if (user_ == 0) {
        const passwd* person = ::getpwnam("postgres");
        if (person == nullptr)
            person = ::getpwnam("nobody");
        if (person == nullptr)
            fail("runs as root, and there is no user postgres or nobody to start it as");
        user_ = person->pw_uid;
        group_ = person->pw_gid;
    }
    // In memory it is quicker; a container often has no more than 64 MB of it, which is less than a cluster.
    const fs::path memory = "/dev/shm";
    std::error_code none;
    const bool roomy = fs::exists(memory) && fs::space(memory, none).available > 2'000'000'000 && !none;
    std::string pattern = ((roomy ? memory : fs::temp_directory_path()) / "milehold-pg-XXXXXX").string();
    if (::mkdtemp(pattern.data()) == nullptr)
        fail("no folder for it");
    folder_ = pattern;
    try {
        makeCluster();
        start();
        ask("postgres", std::string("CREATE DATABASE ") + kTemplate + " ENCODING 'UTF8' TEMPLATE template0");
        const auto made = storage::setUpServer(address(kTemplate), std::nullopt);
        if (!made)
            fail(made.error().detail);
    } catch (...) {
        if (process_ != nullptr)
            stop(SIGQUIT);
        std::error_code ignored;
        fs::remove_all(folder_, ignored);
        throw;
    }
}

PostgresqlServer::~PostgresqlServer() {
    stop(SIGQUIT);
    std::error_code ignored;
    fs::remove_all(folder_, ignored);
}

QProcess* PostgresqlServer::newProcess() const {
    auto* process = new QProcess;
    process->setProcessChannelMode(QProcess::MergedChannels);
    process->setWorkingDirectory(QString::fromStdString(folder_.string()));
    process->setChildProcessModifier([user = user_, group = group_] {
        if (::geteuid() == 0 && (::setgroups(0, nullptr) != 0 || ::setgid(group) != 0 || ::setuid(user) != 0))
            ::_exit(120);
        ::prctl(PR_SET_PDEATHSIG, SIGQUIT); // a test that is killed leaves no server behind
    });
    return process;
}

void PostgresqlServer::run(const std::string& program, const QStringList& arguments) const {
    const std::unique_ptr<QProcess> process(newProcess());
    process->start(QString::fromStdString(program), arguments);
    if (!process->waitForFinished(120'000) || process->exitStatus() != QProcess::NormalExit ||
        process->exitCode() != 0)
        fail(program + ": " + process->readAll().toStdString());
}

void PostgresqlServer::makeCluster() {
    const fs::path passwordFile = folder_ / "password";
    write(passwordFile, std::string(kPassword) + "\n");
    const fs::path passFile = folder_ / "passfile";
    write(passFile, std::string("*:*:*:*:") + kPassword + "\n");
    ::chmod(passFile.c_str(), 0600);
    ::setenv("PGPASSFILE", passFile.c_str(), 1);
    ::unsetenv("PGHOST");
    ::unsetenv("PGUSER");
    for (const auto& path : {folder_, passwordFile}) {
        if (::geteuid() == 0 && ::chown(path.c_str(), user_, group_) != 0)
            fail("cannot give its folder to its user");
    }
    ::chmod(folder_.c_str(), 0711); // the tests look in as themselves
    const QString data = QString::fromStdString((folder_ / "data").string());
    run(programs_ / "initdb", {QStringLiteral("-D"), data, QStringLiteral("-U"), QStringLiteral("keeper"),
                               QStringLiteral("--data-checksums"), QStringLiteral("--auth=scram-sha-256"),
                               QStringLiteral("--encoding=UTF8"), QStringLiteral("--locale=C.UTF-8"),
                               QStringLiteral("--no-instructions"),
                               QStringLiteral("--pwfile=") + QString::fromStdString(passwordFile.string())});
    run("openssl",
        {QStringLiteral("req"), QStringLiteral("-x509"), QStringLiteral("-newkey"), QStringLiteral("ec"),
         QStringLiteral("-pkeyopt"), QStringLiteral("ec_paramgen_curve:prime256v1"), QStringLiteral("-nodes"),
         QStringLiteral("-days"), QStringLiteral("30"), QStringLiteral("-subj"),
         QStringLiteral("/CN=localhost"), QStringLiteral("-addext"),
         QStringLiteral("subjectAltName=DNS:localhost"), QStringLiteral("-keyout"),
         QStringLiteral("server.key"), QStringLiteral("-out"), QStringLiteral("server.crt")});
    port_ = freePort();
    // As the manual page "Several stations" advises.
    write(folder_ / "data" / "postgresql.conf",
          "listen_addresses = '127.0.0.1'\nport = " + std::to_string(port_) +
              "\nunix_socket_directories = '" + folder_.string() +
              "'\nmax_connections = 60\nssl = on\nssl_cert_file = '" + (folder_ / "server.crt").string() +
              "'\nssl_key_file = '" + (folder_ / "server.key").string() +
              "'\nssl_min_protocol_version = 'TLSv1.2'\nlog_error_verbosity = terse\nlog_min_error_statement "
              "= panic\n"
              "log_statement = none\nlog_min_duration_statement = -1\n",
          true);
}

void PostgresqlServer::start() {
    process_.reset(newProcess());
    process_->setStandardOutputFile(QString::fromStdString(log().string()), QIODevice::Append);
    process_->start(QString::fromStdString((programs_ / "postgres").string()),
                    {QStringLiteral("-D"), QString::fromStdString((folder_ / "data").string())});
    if (!process_->waitForStarted())
        fail("cannot be started");
    waitUntilItAnswers();
}

void PostgresqlServer::waitUntilItAnswers() const {
    using namespace std::chrono_literals;
    for (int i = 0; i < 600; ++i) {
        if (answers())
            return;
        if (process_->waitForFinished(0))
            break;
        std::this_thread::sleep_for(50ms);
    }
    std::ifstream said(log());
    fail("does not answer: " + std::string(std::istreambuf_iterator<char>(said), {}));
}

void PostgresqlServer::stop(int signal) {
    if (process_ == nullptr || process_->state() == QProcess::NotRunning)
        return;
    ::kill(static_cast<pid_t>(process_->processId()), signal);
    if (!process_->waitForFinished(30'000))
        process_->kill();
    process_->waitForFinished(5'000);
}

bool PostgresqlServer::answers() const {
    try {
        return ask("postgres", "SELECT 1") == "1";
    } catch (const std::runtime_error&) {
        return false;
    }
}

std::string PostgresqlServer::ask(const std::string& database, const std::string& sql) const {
    const QString name = QUuid::createUuid().toString();
    QString answer;
    QString problem;
    {
        auto connection = QSqlDatabase::addDatabase(QStringLiteral("QPSQL"), name);
        if (!connection.isValid())
            fail("Qt has no driver for it (libqt6sql6-psql)");
        connection.setHostName(QStringLiteral("127.0.0.1"));
        connection.setPort(port_);
        connection.setUserName(QStringLiteral("keeper"));
        connection.setDatabaseName(QString::fromStdString(database));
        if (connection.open()) {
            QSqlQuery query(connection);
            if (!query.exec(QString::fromStdString(sql)))
                problem = query.lastError().text();
            else if (query.next())
                answer = query.value(0).toString();
        } else {
            problem = connection.lastError().text();
        }
    }
    QSqlDatabase::removeDatabase(name);
    if (!problem.isEmpty())
        fail(problem.toStdString());
    return answer.toStdString();
}

std::string PostgresqlServer::makeDatabase() {
    const std::string name = "shop_" + std::to_string(++databases_);
    ask("postgres", "CREATE DATABASE " + name + " TEMPLATE " + kTemplate);
    return address(name);
}

std::string PostgresqlServer::address(const std::string& database, const std::string& user,
                                      const std::string& options) const {
    return "postgresql://" + user + "@127.0.0.1:" + std::to_string(port_) + "/" + database + options;
}

void PostgresqlServer::addPerson(const std::string& name, const std::string& role) const {
    ask("postgres", "CREATE ROLE " + name + " LOGIN PASSWORD '" + kPassword + "' IN ROLE " + role);
}

} // namespace milehold::test
