// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/text.h"

#include "core/shop/search_key.h"

#include <QByteArrayView>

#include <algorithm>

namespace milehold::storage {

bool isStorableText(std::string_view text) {
    if (text.find('\0') != std::string_view::npos || text.starts_with("\xEF\xBB\xBF"))
        return false;
    return QByteArrayView(text.data(), static_cast<qsizetype>(text.size())).isValidUtf8();
}

std::string folded(std::string_view text) {
    const QString apart = toQt(text).normalized(QString::NormalizationForm_KD);
    QString kept;
    kept.reserve(apart.size());
    for (const QChar c : apart) {
        if (c.category() != QChar::Mark_NonSpacing)
            kept.append(c);
    }
    return kept.toCaseFolded().simplified().toStdString();
}

std::vector<std::string> foldedWords(std::string_view text) {
    const QString all = QString::fromStdString(folded(text));
    std::vector<std::string> words;
    QString word;
    const auto finish = [&] {
        if (word.isEmpty())
            return;
        std::string done = word.toStdString();
        if (std::ranges::find(words, done) == words.end())
            words.push_back(std::move(done));
        word.clear();
    };
    for (const QChar c : all) {
        if (c.isLetterOrNumber() || c.isSurrogate() || c.isMark()) {
            word.append(c);
        } else {
            finish();
        }
    }
    finish();
    return words;
}

std::string codeKey(std::string_view text) {
    return core::plateKey(toQt(text).toUpper().toStdString());
}

std::string prefixEnd(std::string_view prefix) {
    return std::string(prefix) + "\xF4\x8F\xBF\xBF"; // U+10FFFF sorts after all other text
}

} // namespace milehold::storage
