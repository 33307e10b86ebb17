// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/manifest.h"

#include "storage/database/text.h"

#include <QJsonDocument>
#include <QJsonObject>

#include <algorithm>
#include <array>
#include <utility>

namespace milehold::storage {

namespace {

constexpr std::array<std::pair<BackupReason, std::string_view>, 7> kReasons = {
    {{BackupReason::OnDemand, "on-demand"},
     {BackupReason::Close, "close"},
     {BackupReason::Daily, "daily"},
     {BackupReason::BeforeMigration, "before-migration"},
     {BackupReason::BeforeImport, "before-import"},
     {BackupReason::BeforeErasure, "before-erasure"},
     {BackupReason::BeforeRestore, "before-restore"}}};

constexpr int kFormat = 1;

bool isHash(std::string_view text) {
    return text.size() == 64 &&
           std::ranges::all_of(text, [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); });
}

} // namespace

std::string_view codeOf(BackupReason reason) {
    return std::ranges::find(kReasons, reason, &std::pair<BackupReason, std::string_view>::first)->second;
}

std::string toJson(const BackupInfo& backup) {
    QJsonObject rows;
    for (const auto& [table, count] : backup.rows)
        rows.insert(toQt(table), static_cast<qint64>(count));
    const QJsonObject manifest{{QStringLiteral("format"), kFormat},
                               {QStringLiteral("at"), toQt(core::toIso(backup.at))},
                               {QStringLiteral("reason"), toQt(codeOf(backup.reason))},
                               {QStringLiteral("schema"), static_cast<qint64>(backup.schema)},
                               {QStringLiteral("bytes"), static_cast<qint64>(backup.bytes)},
                               {QStringLiteral("sha256"), toQt(backup.sha256)},
                               {QStringLiteral("rows"), rows},
                               {QStringLiteral("chain_sequence"), static_cast<qint64>(backup.chainSequence)},
                               {QStringLiteral("chain_hash"), toQt(backup.chainHash)},
                               {QStringLiteral("warning"), toQt(backup.warning)}};
    return QJsonDocument(manifest).toJson().toStdString();
}

core::Result<BackupInfo> backupFromJson(std::string_view text) {
    const auto bad = [](std::string_view what) {
        return core::fail(core::ErrorCode::Unreadable, "a backup's manifest: " + std::string(what));
    };
    QJsonParseError problem;
    const QJsonDocument document =
        QJsonDocument::fromJson(QByteArray(text.data(), static_cast<qsizetype>(text.size())), &problem);
    if (problem.error != QJsonParseError::NoError || !document.isObject())
        return bad("it is not JSON");
    const QJsonObject manifest = document.object();
    if (manifest.value(QStringLiteral("format")).toInt() != kFormat)
        return bad("its format is not known");
    BackupInfo backup;
    const auto at = core::momentFromIso(manifest.value(QStringLiteral("at")).toString().toStdString());
    if (!at)
        return bad("it has no moment");
    backup.at = *at;
    const std::string reason = manifest.value(QStringLiteral("reason")).toString().toStdString();
    const auto* const known =
        std::ranges::find(kReasons, reason, &std::pair<BackupReason, std::string_view>::second);
    if (known == kReasons.end())
        return bad("its reason is not known");
    backup.reason = known->first;
    backup.schema = manifest.value(QStringLiteral("schema")).toInteger(-1);
    const qint64 bytes = manifest.value(QStringLiteral("bytes")).toInteger(-1);
    backup.sha256 = manifest.value(QStringLiteral("sha256")).toString().toStdString();
    if (backup.schema <= 0 || bytes <= 0 || !isHash(backup.sha256))
        return bad("a figure is missing");
    backup.bytes = static_cast<std::uint64_t>(bytes);
    const QJsonObject rows = manifest.value(QStringLiteral("rows")).toObject();
    for (auto row = rows.begin(); row != rows.end(); ++row) {
        const qint64 count = row.value().toInteger(-1);
        if (count < 0)
            return bad("a count of rows is no number");
        backup.rows[row.key().toStdString()] = count;
    }
    backup.chainSequence = manifest.value(QStringLiteral("chain_sequence")).toInteger(-1);
    backup.chainHash = manifest.value(QStringLiteral("chain_hash")).toString().toStdString();
    if (backup.chainSequence < 0 || (backup.chainSequence > 0 && !isHash(backup.chainHash))) {
        return bad("it has no head of the change log");
    }
    backup.warning = manifest.value(QStringLiteral("warning")).toString().toStdString();
    return backup;
}

} // namespace milehold::storage
