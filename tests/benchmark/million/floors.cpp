// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/benchmark/million/floors.h"

#include <QProcess>
#include <QSqlDatabase>
#include <QSqlQuery>
#include <QSqlRecord>
#include <QTemporaryDir>
#include <QVariant>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <sys/resource.h>

namespace milehold::benchmark {

namespace {

const QString kConnection = QStringLiteral("floor");

QString floorFile() {
    static const QTemporaryDir folder;
    return folder.filePath(QStringLiteral("floor.db"));
}

QSqlDatabase opened(const QString& file) {
    QSqlDatabase database = QSqlDatabase::addDatabase(QStringLiteral("QSQLITE"), kConnection);
    database.setDatabaseName(file);
    if (!database.open()) {
        std::fprintf(stderr, "cannot open %s\n", qPrintable(file));
        std::exit(1);
    }
    return database;
}

/// The columns that a history is read from, table by table.
const char* const kRows[] = {
    "SELECT v.id, v.maker, v.model, v.model_year, v.family_id, v.customer_id, c.do_not_call "
    "FROM vehicle v LEFT JOIN customer c ON c.id = v.customer_id",
    "SELECT vehicle_id, id, number, repair_order, kind, path_id, written_up, delivered, odometer_in, "
    "odometer_out, "
    "first_seen, technician_id, concern_group, delivery_check, calibration_after, comeback_of, "
    "comeback_decision, "
    "void_reason, rattle_tenths_after FROM job",
    "SELECT job_id, part_id, position, lot FROM job_part",
    "SELECT id, job_id, date, outcome, odometer, odometer_estimated, noise_since FROM follow_up WHERE "
    "void_reason = ''",
    "SELECT vehicle_id, id, date, shown, reset_offset FROM odometer WHERE source = 'typed'",
};

} // namespace

double processorMs(int who) {
    rusage used{};
    getrusage(who, &used);
    const auto ms = [](const timeval& at) {
        return static_cast<double>(at.tv_sec) * 1e3 + static_cast<double>(at.tv_usec) * 1e-3;
    };
    return ms(used.ru_utime) + ms(used.ru_stime);
}

double median(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    return values[values.size() / 2];
}

double readThroughQtMs(const std::filesystem::path& file, int rounds) {
    std::vector<double> times;
    for (int i = 0; i < rounds; ++i) {
        const double before = processorMs(RUSAGE_SELF);
        {
            QSqlDatabase database = opened(QString::fromStdString(file.string()));
            std::size_t values = 0;
            for (const char* rows : kRows) {
                QSqlQuery query(database);
                query.setForwardOnly(true);
                if (!query.exec(QString::fromLatin1(rows)))
                    std::exit(1);
                const int columns = query.record().count();
                while (query.next())
                    for (int column = 0; column < columns; ++column)
                        values += query.value(column).isValid() ? 1 : 0;
            }
            if (values == 0)
                std::exit(1);
        }
        QSqlDatabase::removeDatabase(kConnection);
        times.push_back(processorMs(RUSAGE_SELF) - before);
    }
    return median(times);
}

void layOutFloor(std::span<const core::LifeRecord> lives) {
    {
        QSqlDatabase database = opened(floorFile());
        QSqlQuery query(database);
        const auto run = [&query](const char* sql) {
            if (!query.exec(QString::fromLatin1(sql)))
                std::exit(1);
        };
        run("PRAGMA synchronous = OFF");
        run("CREATE TABLE life (path TEXT, technician TEXT, metres INTEGER, ended INTEGER)");
        database.transaction();
        query.prepare(QStringLiteral("INSERT INTO life VALUES (?, ?, ?, ?)"));
        for (const core::LifeRecord& record : lives) {
            const auto text = [](const auto& id) {
                return id ? QVariant(QString::fromStdString(core::toString(id->uuid))) : QVariant();
            };
            query.bindValue(0, text(record.life.path));
            query.bindValue(1, text(record.technician));
            query.bindValue(2, static_cast<qlonglong>(record.life.known.metres()));
            query.bindValue(3, static_cast<int>(record.life.state));
            if (!query.exec())
                std::exit(1);
        }
        database.commit();
        run("CREATE INDEX life_path ON life (path, metres, ended)");
        run("CREATE INDEX life_technician ON life (technician, path, metres, ended)");
        run("ANALYZE");
    }
    QSqlDatabase::removeDatabase(kConnection);
}

double groupByMs(const std::string& where, int rounds) {
    const QString sql =
        QStringLiteral("SELECT count(*), sum(n) FROM (SELECT path, metres, ended, count(*) AS n "
                       "FROM life %1 GROUP BY path, metres, ended);")
            .arg(where.empty() ? QString() : QStringLiteral("WHERE ") + QString::fromStdString(where));
    std::vector<double> times;
    for (int i = 0; i < rounds; ++i) {
        const double before = processorMs(RUSAGE_CHILDREN);
        QProcess shell;
        shell.start(QStringLiteral("sqlite3"), {floorFile(), sql});
        if (!shell.waitForFinished(-1) || shell.exitCode() != 0) {
            std::fputs("the program sqlite3 is needed for the floor\n", stderr);
            std::exit(1);
        }
        times.push_back(processorMs(RUSAGE_CHILDREN) - before);
    }
    return median(times);
}

} // namespace milehold::benchmark
