// SPDX-License-Identifier: GPL-3.0-or-later
// The commands `sample` and `quote` as a script meets them: the program itself, its streams and its exit
// status.
#include <QDir>
#include <QFileInfo>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <QProcess>
#include <QTemporaryDir>

#include <gtest/gtest.h>

namespace milehold::cli {
namespace {

struct Answer {
    int exitCode = -1;
    QByteArray out;
    QByteArray err;
    QJsonObject json() const { return QJsonDocument::fromJson(out).object(); }
};

Answer ask(const QStringList& arguments) {
    QProcess program;
    program.start(QStringLiteral(MILEHOLD_BINARY_DIR "/milehold-cli"), arguments);
    Answer answer;
    EXPECT_TRUE(program.waitForFinished(120'000));
    answer.exitCode = program.exitStatus() == QProcess::NormalExit ? program.exitCode() : -1;
    answer.out = program.readAllStandardOutput();
    answer.err = program.readAllStandardError();
    return answer;
}

class SampleAndQuote : public testing::Test {
protected:
    QString shop() const { return folder.filePath(QStringLiteral("hollow-creek.milehold")); }
    Answer writeShop() {
        return ask(
            {"sample", "--jobs", "60", "--seed", "4", "--ends", "2031-05-16", "--format", "json", shop()});
    }
    QTemporaryDir folder;
};

TEST_F(SampleAndQuote, WritesAShopThatIsThenQuotedFrom) {
    const Answer written = writeShop();
    ASSERT_EQ(written.exitCode, 0) << written.err.toStdString();
    EXPECT_GE(written.json()["jobs"].toInt(), 60);
    EXPECT_TRUE(QFileInfo(shop() + QStringLiteral("/store/shop.db")).exists());

    const Answer quoted = ask({"quote", "--shop", shop(), "--family", "Tarvick T6 3.3", "--year", "2020",
                               "--yearly-miles", "15000", "--today", "2031-05-16", "--format", "json"});
    ASSERT_EQ(quoted.exitCode, 0) << quoted.err.toStdString();
    EXPECT_EQ(quoted.json()["unit"].toString(), QStringLiteral("mi"));
    EXPECT_NEAR(quoted.json()["yearly"].toObject()["distance"].toDouble(), 15'000, 0.001);
    const QJsonArray paths = quoted.json()["paths"].toArray();
    ASSERT_EQ(paths.size(), 6); // those whose engines include this one
    for (const QJsonValue& path : paths) {
        EXPECT_FALSE(path["sentence"].toString().isEmpty());
        EXPECT_EQ(path["by_year"].toArray().size(), 4);
        EXPECT_GE(path["jobs"].toArray().size(), path["lives"].toInt()); // every figure opens its records
    }
    EXPECT_TRUE(ask({"quote", "--shop", shop(), "--family", "Tarvick T6 3.3", "--year", "2020"})
                    .out.contains("Records up to"));
}

TEST_F(SampleAndQuote, PrintsTheSameLivesForTheSameSeed) {
    const QStringList arguments = {"sample", "--jobs", "60", "--seed", "4", "--ends", "2031-05-16", "--csv"};
    const Answer first = ask(arguments);
    ASSERT_EQ(first.exitCode, 0);
    EXPECT_TRUE(first.out.startsWith("miles,end,last_quiet,entry,group,vehicle,"));
    EXPECT_EQ(first.out, ask(arguments).out);
}

TEST_F(SampleAndQuote, NeverWritesOverAFolderThatIsThere) {
    ASSERT_EQ(writeShop().exitCode, 0);
    const Answer again = writeShop();
    EXPECT_EQ(again.exitCode, 2);
    EXPECT_TRUE(again.out.isEmpty());
    EXPECT_TRUE(QFileInfo(shop() + QStringLiteral("/store/shop.db")).exists());
}

TEST_F(SampleAndQuote, SayWhatIsWrongInOneSentenceAndWriteNothing) {
    ASSERT_EQ(writeShop().exitCode, 0);
    for (const QStringList& arguments :
         {QStringList{"sample"}, QStringList{"sample", "--jobs", "0", folder.filePath("a.milehold")},
          QStringList{"sample", "--ends", "2031-02-30", folder.filePath("a.milehold")},
          QStringList{"sample", "--follow-up", "never", "--csv"},
          QStringList{"sample", folder.filePath("no-ending")}, QStringList{"quote", "--shop", shop()},
          QStringList{"quote", "--shop", shop(), "--family", "No such engine"},
          QStringList{"quote", "--shop", shop(), "--vin", "0TVA1AA0AAA000000"},
          QStringList{"quote", "--shop", shop(), "--family", "Tarvick T6 3.3", "--yearly-miles", "-5"},
          QStringList{"quote", "--shop", folder.filePath("absent.milehold"), "--family", "x"}}) {
        const Answer answer = ask(arguments);
        EXPECT_EQ(answer.exitCode, 2)
            << arguments.join(' ').toStdString() << ": " << answer.err.toStdString();
        EXPECT_TRUE(answer.out.isEmpty());
        EXPECT_TRUE(answer.err.startsWith("milehold-cli: ")) << answer.err.toStdString();
        EXPECT_EQ(answer.err.count('\n'), 1);
    }
    EXPECT_FALSE(QFileInfo::exists(folder.filePath("a.milehold")));
    EXPECT_FALSE(QFileInfo::exists(folder.filePath("no-ending")));
}

} // namespace
} // namespace milehold::cli
