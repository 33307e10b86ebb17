// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/shop_care.h"

#include "storage/database/text.h"
#include "storage/files/durable.h"

#include <QJsonDocument>
#include <QJsonObject>

namespace milehold::storage {

namespace {

constexpr std::size_t kMostBytes = 100'000;

std::filesystem::path fileOf(const std::filesystem::path& shopFolder) {
    return shopFolder / "care.json";
}

std::optional<core::Moment> momentOf(const QJsonObject& object, const QString& name) {
    return core::momentFromIso(object.value(name).toString().toStdString());
}

} // namespace

core::Result<ShopCare> readCare(const std::filesystem::path& shopFolder) {
    ShopCare care;
    const auto text = readFile(fileOf(shopFolder), kMostBytes);
    if (!text && text.error().code == core::ErrorCode::NotFound)
        return care;
    if (!text)
        return core::failureOf(text);
    QJsonParseError problem;
    const auto document = QJsonDocument::fromJson(QByteArray::fromStdString(*text), &problem);
    if (problem.error != QJsonParseError::NoError || !document.isObject())
        return core::fail(core::ErrorCode::Unreadable,
                          "the note of when this shop was looked after (care.json) cannot be read");
    const QJsonObject object = document.object();
    care.fullCheck = momentOf(object, QStringLiteral("full_check"));
    care.offMachine = momentOf(object, QStringLiteral("off_machine"));
    care.testRestore = momentOf(object, QStringLiteral("test_restore"));
    care.swept = momentOf(object, QStringLiteral("swept"));
    care.offMachineFolder = object.value(QStringLiteral("off_machine_folder")).toString().toStdString();
    return care;
}

core::Result<void> writeCare(const std::filesystem::path& shopFolder, const ShopCare& care) {
    QJsonObject object;
    const auto put = [&](const QString& name, const std::optional<core::Moment>& at) {
        if (at)
            object.insert(name, toQt(core::toIso(*at)));
    };
    put(QStringLiteral("full_check"), care.fullCheck);
    put(QStringLiteral("off_machine"), care.offMachine);
    put(QStringLiteral("test_restore"), care.testRestore);
    put(QStringLiteral("swept"), care.swept);
    object.insert(QStringLiteral("off_machine_folder"), toQt(care.offMachineFolder));
    const auto fresh = shopFolder / "care.json.new";
    if (auto removed = removeFile(fresh); !removed)
        return removed;
    if (auto made = createFile(fresh, QJsonDocument(object).toJson().toStdString()); !made)
        return made;
    return renameFile(fresh, fileOf(shopFolder));
}

bool isDue(std::optional<core::Moment> last, core::Moment now, std::chrono::hours every) {
    return !last || *last > now || now - *last >= every;
}

} // namespace milehold::storage
