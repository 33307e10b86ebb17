// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/hash.h"

#include "storage/make_id.h"

#include <QByteArrayView>
#include <QCryptographicHash>
#include <QMessageAuthenticationCode>
#include <QRandomGenerator>
#include <QUuid>

#include <algorithm>
#include <array>
#include <fstream>

namespace milehold::storage {

namespace {

QByteArrayView view(std::string_view bytes) {
    return {bytes.data(), static_cast<qsizetype>(bytes.size())};
}

} // namespace

std::string sha256(std::string_view bytes) {
    QCryptographicHash hash(QCryptographicHash::Sha256);
    hash.addData(view(bytes));
    return hash.result().toHex().toStdString();
}

std::string hmacSha256(std::string_view key, std::string_view bytes) {
    const QByteArray message(bytes.data(), static_cast<qsizetype>(bytes.size()));
    const QByteArray secret(key.data(), static_cast<qsizetype>(key.size()));
    return QMessageAuthenticationCode::hash(message, secret, QCryptographicHash::Sha256)
        .toHex()
        .toStdString();
}

std::optional<std::string> sha256OfFile(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    if (!in)
        return std::nullopt;
    QCryptographicHash hash(QCryptographicHash::Sha256);
    std::array<char, 1 << 16> block{};
    while (in) {
        in.read(block.data(), static_cast<std::streamsize>(block.size()));
        hash.addData(QByteArrayView(block.data(), static_cast<qsizetype>(in.gcount())));
    }
    if (in.bad())
        return std::nullopt;
    return hash.result().toHex().toStdString();
}

std::string randomKey() {
    std::array<quint32, 8> words{};
    QRandomGenerator::system()->fillRange(words.data(), static_cast<qsizetype>(words.size()));
    return QByteArray(reinterpret_cast<const char*>(words.data()), sizeof words).toHex().toStdString();
}

std::string chainHash(const std::vector<std::string_view>& parts) {
    std::string canonical;
    for (const auto part : parts) {
        canonical += std::to_string(part.size());
        canonical += ':';
        canonical += part;
    }
    return sha256(canonical);
}

core::Uuid makeUuid() {
    const QByteArray bytes = QUuid::createUuid().toRfc4122();
    core::Uuid uuid;
    std::transform(bytes.begin(), bytes.end(), uuid.bytes.begin(),
                   [](char c) { return static_cast<std::uint8_t>(c); });
    return uuid;
}

} // namespace milehold::storage
