import { formatNote, type MessageFormat } from '../message-format.ts';
import type { LaterMessages } from '../messages.ts';
import type { WordedPosition } from '../stage-words.ts';

const surfaces: Readonly<Record<string, string>> = { flat: '平面', curved: '曲面', cylinder: '円筒' };
const fibers: Readonly<Record<string, string>> = {
  cotton: '綿',
  polyester: 'ポリエステル',
  linen: '麻',
  viscose: 'レーヨン',
  wool: '毛',
  elastane: 'ポリウレタン',
};
const qualities: Readonly<Record<string, string>> = {
  hand: '手ざわり',
  gloss: 'つや',
  washLife: '洗濯への強さ',
  washLifeCycles: '洗濯への強さ',
  breathability: '通気性',
};
const pieces = { other: '#点' } as const;
const across = (say: MessageFormat, xMm: number) =>
  Math.abs(xMm) < 0.005 ? '中心線上' : `中心から${xMm > 0 ? '右' : '左'}へ${say.len(Math.abs(xMm))}`;
const place = (say: MessageFormat, p: WordedPosition) =>
  `${across(say, p.xMm)}、上から${say.len(p.yMm)}${p.angleDeg === 0 ? '' : `、回転${say.angle(p.angleDeg)}`}`;

/** Japanese: what the slip says once the customer has begun. */
export const messages: LaterMessages = {
  details: {
    remove: '取り除く',
    adjust: '調整する',
    apply: '適用する',
    width: '幅',
    'from-center': '中心から',
    'from-top': '上から',
    angle: '角度',
    'angle-range': (_p, s) => `${s.angle(-360)}から${s.angle(360)}まで`,
    'length-range': (p, s) => `${s.text(p.leastText)}から${s.text(p.mostText)}まで`,
    'usual-positions': 'よく使う位置',
    'duplicate-to': (p, s) => `${s.text(p.name)}にコピーする`,
    'also-on': 'コピー先',
    checking: '図案を確かめています…',
    'no-findings': '図案を確かめました。手直しは不要です',
    noticed: (p, s) => s.plural(p.count, { other: '気づいた点#件' }),
    'severity-note': 'ご参考まで',
    'severity-warning': 'ご確認ください',
    'severity-stops': (p, s) => `${s.names('method', p.methods)}ではできません`,
    before: '前',
    after: '後',
    mended: '手直し済み',
    'take-back': '手直しをやめる',
    'names-list': '一行にひとつの名前とサイズ',
    'names-file': 'ファイルから一覧を読む',
    'names-too-long': (p, s) => `${s.n(p.row)}行目：名前は${s.n(40)}文字までです`,
    'names-too-many': (p, s) => `${s.n(p.row)}行目：一覧は${s.n(2000)}行までです`,
    'names-unknown-size': (p, s) => `${s.n(p.row)}行目：${s.text(p.text)}というサイズはありません`,
    'rows-refused': (p, s) => s.plural(p.count, { other: 'ほかに#行に誤りがあります' }),
    'names-no-name': (p, s) => `${s.n(p.row)}行目に名前がありません`,
    'names-count': (p, s) => s.plural(p.count, { other: '名前#件' }),
    'names-off': (p, s) =>
      `${s.text(p.size)}：${s.plural(p.pieces, { other: '#点' })}に対して名前が${s.plural(p.names, { other: '#件' })}`,
    'names-set-pieces': (p, s) => s.plural(p.count, { other: '一覧のとおり#点にする' }),
    'names-file-large': (p, s) => `ファイルが${s.bytes(p.bytes)}を超えています`,
    widest: '最大幅',
    'name-shown': (p, s) => `図面の名前：${s.text(p.name)}（${s.n(p.count)}件中${s.n(p.number)}件目）`,
    'name-next': '次の名前を見る',
    font: '書体',
    'cap-height': '大文字の高さ',
    tax: (p, s) => `税 ${s.percent(p.rate)}`,
    'tax-included': (p, s) => `税 ${s.percent(p.rate)}（内税）`,
    sum: '合計の内訳',
    'every-count': '数ごとの違い',
    'count-at-price': (p, s) =>
      `${s.plural(p.count, pieces)}：一点${s.money(p.unit)}、合計${s.money(p.total)}`,
    because: 'この方法の理由',
    instead: 'ほかにできること',
    'change-finish': (p, s) => `仕上げ：${s.name('finish', p.finish)}`,
    'change-method': (p, s) => `${s.name('method', p.method)}でプリント`,
    'change-count': (p, s) => s.plural(p.count, pieces),
    'change-rush': (p) => (p.rush === false ? 'お急ぎなし' : 'お急ぎ'),
    'change-needed-by': (p, s) => (p.neededBy ? `${s.day(p.neededBy)}までに必要` : '日の指定なし'),
    'now-ready': '変更後の出来上がり',
    'earliest-day': (p, s) => `いちばん早い日は${s.day(p.day)}です`,
    'month-before': '前の月',
    'month-after': '次の月',
    'price-holds': (p, s) => `価格と日は${s.text(p.until)}まで有効です`,
    'your-order': 'ご注文',
    'back-to-slip': '注文票へ戻る',
    name: 'お名前',
    email: 'メール',
    phone: '電話',
    note: '工房への連絡',
    optional: '任意',
    'fault-name': 'お名前を書いてください。',
    'fault-email': 'ada@quill.example のようなメールアドレスを書いてください。',
    'fault-approve': '仕上がり見本を確かめてから、ここに印を付けてください。',
    proof: '仕上がり見本',
    'proof-of': (p, s) => `${s.text(p.name)}の仕上がり見本`,
    'proof-name': (p, s) =>
      `「${s.text(p.text)}」を入れた見本です。1枚ごとに、それぞれの名前または番号が入ります。`,
    'proof-coming': '仕上がり見本を作っています',
    approve: '仕上がり見本を確かめました。このとおりにプリントしてください',
    'place-order': (p, s) => (p.total ? `${s.money(p.total)}で注文する` : '注文する'),
    ordering: '注文しています',
    'order-placed': 'ありがとうございます。ご注文を受け取りました。',
    state: '状況',
    'new-slip': '新しい注文票を始める',
  },
  reasons: {
    'surface-unfit': (p, s) =>
      `ここは${s.word(surfaces, p.surface)}です。プリントできるのは${s.anyOf(surfaces, p.allowed)}だけです。`,
    'off-the-face': (p, s) =>
      `プリント（${s.size(p.widthMm, p.heightMm)}）が、サイズ${s.name('size', p.size)}のプリント範囲（${s.size(p.areaWidthMm, p.areaHeightMm)}）からはみ出します。`,
    'in-keep-out': (p, s) => `プリントできない${s.name('keep-out', p.keepOut)}にかかります。`,
    'too-large-for-bed': (p, s) =>
      `プリント（${s.size(p.widthMm, p.heightMm)}）が台（${s.size(p.bedWidthMm, p.bedHeightMm)}）に収まりません。`,
    'too-large-for-sheet': (p, s) =>
      `プリント（${s.size(p.widthMm, p.heightMm)}）がシート（${s.size(p.sheetWidthMm, p.sheetHeightMm)}）に収まりません。`,
    'fiber-unfit': (p, s) =>
      `${s.anyOf(fibers, p.fibers)}が${s.percent(p.leastShare)}以上必要です。この生地は${s.percent(p.share)}です。`,
    'cloth-too-light': '生地が明るすぎます。',
    'cloth-too-dark': '生地が暗すぎます。',
    'line-too-thin': (p, s) =>
      `いちばん細い線が${s.fine(p.lineMm)}になります。線は${s.fine(p.leastMm)}から持ちます。`,
    'gap-too-thin': (p, s) =>
      `いちばん狭いすき間が${s.fine(p.gapMm)}になります。すき間は${s.fine(p.leastMm)}から残ります。`,
    'too-few-pixels': (p, s) =>
      `この大きさでは1インチに${s.n(p.dpi)}ドットです。${s.n(p.leastDpi)}ドット必要です。`,
    'soft-alpha-lost': (p, s) => `影やぼかしなど、インクの${s.percent(p.share)}が半透明で、失われます。`,
    'too-few-pieces': (p, s) =>
      `${s.plural(p.least, pieces)}からです。今は${s.plural(p.pieces, pieces)}です。`,
    'too-many-pieces': (p, s) =>
      `${s.plural(p.most, pieces)}までです。今は${s.plural(p.pieces, pieces)}です。`,
    'hand-too-thick': '仕上げが求めるより厚みを感じます。',
    'gloss-out-of-bounds': 'つやが仕上げに合いません。',
    'wash-life-too-short': (p, s) =>
      `洗濯${s.n(p.washLife)}回までです。仕上げは${s.n(p.least)}回を求めます。`,
    'breathability-too-low': '仕上げが求めるより空気を通しません。',
    'not-together-on-a-piece': (p, s) => `${s.name('method', p.other)}と同じ品物には使えません。`,
    'no-station': 'これを置けるプレス機やプリンターが工房にありません。',
    'nothing-to-print': 'この図案にはインクがありません。',
    'method-not-asked': (p, s) => `${s.name('method', p.asked)}をお求めでした。`,
    'no-placement': 'まだプリントするものがありません。図案か名前を加えてください。',
    'no-method-fits': 'このままではプリントできる方法がありません。',
    'needed-by-too-early': (p, s) =>
      `${s.day(p.neededBy)}には間に合いません。いちばん早い日は${s.day(p.earliest)}です。`,
    'plan-full': (p, s) => `工房はこの先${s.n(p.horizonDays)}日、予定がいっぱいです。`,
    'only-fit': (p, s) => `できる方法は${s.name('method', p.method)}だけです。`,
    'best-margin-rate': (p, s) =>
      `${s.name('method', p.method)}のほうが${s.name('method', p.other)}より工房の流れがよくなります。`,
    'lowest-price': (p, s) =>
      `${s.name('method', p.method)}は${s.name('method', p.other)}より${s.money(p.difference)}安くなります。`,
    'earliest-day': (p, s) =>
      `${s.name('method', p.method)}なら${s.day(p.day)}、${s.name('method', p.other)}なら${s.day(p.otherDay)}に出来上がります。`,
    'equal-so-listed-first': (p, s) =>
      `${s.name('method', p.method)}と${s.name('method', p.other)}は同じ結果です。工房は前者を選びます。`,
    'finish-asks': (p, s) =>
      `仕上げ「${s.name('finish', p.finish)}」で決まりました：${s.word(qualities, p.quality)}。`,
    'keeps-needed-by': (p, s) =>
      `${s.name('method', p.method)}は${s.day(p.neededBy)}に間に合います。${s.name('method', p.other)}では${s.day(p.otherDay)}になります。`,
    'underbase-needed': (p, s) => `${s.name('color', p.color)}では色の下に白を敷きます。`,
    'treatment-added': (p, s) =>
      `仕上げ「${s.name('finish', p.finish)}」のために${s.name('treatment', p.treatment)}を加えます。`,
    'many-alike': (p, s) => `同じもの${s.plural(p.pieces, pieces)}なので、準備は一度で済みます。`,
    'each-different': (p, s) => `${s.plural(p.pieces, pieces)}すべて違うので、一点ずつ別のプリントです。`,
    'bound-reached': (p, s) =>
      `組み合わせが多く、すべては試していません。最善との差は${s.percent(p.gap)}以内です。`,
    'next-count-cheaper': (p, s) => `${s.plural(p.count, pieces)}から一点${s.money(p.unit)}になります。`,
    'count-capped': (p, s) =>
      `${s.plural(p.count, pieces)}の価格${s.money(p.total)}を超えてはいただきません。`,
    'floor-applied': 'これより安くは作れません。',
    'set-up-fee': '準備の費用は一度だけです。',
    'rush-fee': '早い日には追加の費用がかかります。',
    'size-surcharge': 'サイズによって価格が上がります。',
    'after-cutoff': (p, s) => `${s.time(p.cutoff)}を過ぎた注文は次の営業日の扱いです。`,
    'move-onto-face': '印刷できる範囲の中へ動かしてください。',
    'make-smaller': (p, s) => `幅を${s.len(p.widthMm)}以下にしてください。`,
    'use-other-face': (p, s) => `${s.name('face', p.face)}に置いてください。`,
    'use-other-finish': (p, s) => `仕上げ「${s.name('finish', p.finish)}」を選んでください。`,
    'use-other-blank': (p, s) => `別の品物「${s.name('blank', p.blank)}」を選んでください。`,
    'thicken-lines': (p, s) => `線を${s.fine(p.toMm)}まで太くしてください。`,
    'widen-gaps': (p, s) => `すき間を${s.fine(p.toMm)}まで広げてください。`,
    'larger-letters': (p, s) =>
      `文字の高さを${s.len(p.capHeightMm)}、幅の上限を${s.len(p.widthMm)}にしてください。`,
    'use-other-color': (p, s) => `色「${s.name('color', p.color)}」を選んでください。`,
    'fewer-pieces': (p, s) => `${s.plural(p.pieces, pieces)}以下にしてください。`,
    'more-pieces': (p, s) => `${s.plural(p.pieces, pieces)}以上にしてください。`,
    'firm-up-soft-alpha': '半透明の部分を不透明にしてください。',
    'sharper-file': (p, s) => `幅${s.n(p.widthPx)}ピクセル以上のファイルを送ってください。`,
    'choose-later-day': (p, s) => `${s.day(p.day)}以降を選んでください。`,
    'pay-rush': (p, s) => `お急ぎ（${s.money(p.fee)}）なら${s.day(p.day)}に出来上がります。`,
    'rush-brings-nothing-earlier': (p, s) => `お急ぎにしても${s.day(p.day)}より早くはなりません。`,
    'method-flips-below': (p, s) =>
      `${s.plural(p.count, pieces)}までは${s.name('method', p.method)}になります。`,
    'method-flips-at': (p, s) =>
      `${s.plural(p.count, pieces)}からは${s.name('method', p.method)}になります。`,
  },
  findings: {
    'nothing-to-print': '絵が空です。プリントするものがありません。',
    'too-few-pixels': (p, s) =>
      `幅${s.len(p.widthMm)}では1インチに${s.n(p.dpi)}ドットで、ぼやけて見えます。${s.len(p.goodWidthMm)}までか、幅${s.n(p.neededWidthPx)}ピクセルのファイルなら鮮明です。`,
    'thin-lines': (p, s) =>
      `${s.fine(p.lineMm)}の細い線は途切れることがあります。線は${s.fine(p.leastMm)}から持ちます。幅${s.len(p.goodWidthMm)}でその太さになります。`,
    'thin-gaps': (p, s) =>
      `${s.fine(p.gapMm)}の狭いすき間はインクで埋まることがあります。すき間は${s.fine(p.leastMm)}から残ります。幅${s.len(p.goodWidthMm)}でその広さになります。`,
    'soft-alpha': (p, s) =>
      `影やぼかしなど、インクの${s.percent(p.share)}が半透明です。不透明になるか、消えます。`,
    'background-box': (p, s) => `図柄が${s.text(p.hex)}の四角の中にあります。四角もプリントされます。`,
    vanishes: (p, s) => `インクの${s.percent(p.share)}が生地の色に近く、見えません。`,
    'light-rim': '白地から切り抜いたような明るい縁が残っています。',
    'out-of-gamut': (p, s) => `インクで出せない色があり、落ち着いた色になります：${s.list(p.colors)}。`,
    'large-solid': (p, s) =>
      `${s.len(p.diameterMm)}の広い塗りは空気を通しません。細かい点にすると着やすくなります。`,
    'mostly-empty': (p, s) => `インクは絵の${s.percent(p.share)}です。空白ではなくインクを基準に配置します。`,
    'extreme-shape': (p, s) => `図案の長さが幅や高さの${s.n(p.ratio)}倍あります。大きさを確かめてください。`,
    'source-note': (p, s) => formatNote(messages.notes, p, s),
  },
  remedies: {
    'remove-background': '背景を抜く',
    trim: '空白の縁を切り取る',
    'firm-up': '半透明の部分を不透明にする',
    'screen-soft': '半透明の部分を細かい点にする',
    thicken: '細い線を太くする',
    outline: '輪郭線をつける',
    'screen-solids': '広い塗りを細かい点にする',
    recolor: '別の色でプリントする',
  },
  notes: {
    'turned-by-metadata': '絵は回転して保存されていました。正しい向きで表示します。',
    'cmyk-converted': '印刷用の色（CMYK）を変換しました。少し違って見えることがあります。',
    'wide-gamut-converted': '画面より広い範囲の色を収めました。',
    'sixteen-bit-reduced': 'プリントできるより細かい階調を減らしました。',
    'first-frame-only': (p, s) => `動く絵です。${s.n(p.frames)}コマのうち最初のコマをプリントします。`,
    'first-page-only': (p, s) => `${s.n(p.pages)}ページのうち最初のページをプリントします。`,
    'missing-font': (p, s) =>
      `工房に書体${s.list(p.fonts)}がなく、別の書体になります。保つには文字をアウトラインにして送ってください。`,
    'no-size-in-file': 'ファイルに大きさがありません。希望の幅を入れてください。',
    'external-reference-dropped': (p, s) =>
      s.plural(p.count, { other: 'ファイルが参照するだけの絵が#点ありません。' }),
    'active-content-dropped': 'ファイルにプログラムが入っていたので、除きました。',
    'name-does-not-match': (p, s) =>
      `ファイルの名前は${s.text(p.named)}ですが、中身は${s.text(p.found)}です。`,
    reduced: (p, s) =>
      `絵（${s.n(p.fromWidthPx)} × ${s.n(p.fromHeightPx)}ピクセル）は使える大きさを超えるため、縮小しました。`,
  },
  charges: {
    'size-surcharge': (p, s) => (p.size ? `サイズ${s.name('size', p.size)}` : '大きいサイズ'),
    'extra-placement': '追加のプリント',
    names: '名前',
    'finish-surcharge': '仕上げ',
    'break-cap': '次の段階の価格まで',
    'set-up-order': '準備',
    'set-up-design': '図案の準備',
    rush: 'お急ぎ',
    delivery: '受け渡し',
    rounding: '端数調整',
  },
  problems: {
    'malformed-json': '送られた内容を読めませんでした。もう一度お試しください。',
    'invalid-input': '注文票に正しくないところがあります。',
    'missing-key': 'キーが必要です。',
    'wrong-key': 'キーが正しくありません。',
    'not-allowed': 'このキーでは許可されていません。',
    'not-found': 'ここには何もありません。',
    'method-not-allowed': 'ここでは受け付けていません。',
    'unknown-shop': 'その工房はありません。',
    'unknown-artwork': '工房にこの図案がもうありません。もう一度加えてください。',
    'unknown-id': '注文票のうち、扱いが終わったものがあります。選び直してください。',
    'artwork-in-use': 'この図案は注文に使われているため残ります。',
    'quote-expired': '価格の期限が切れました。新しい価格をご覧ください。',
    'quote-altered': 'この価格は当工房のものではありません。',
    'slip-differs': '計算のあとで注文票が変わりました。新しい価格をご覧ください。',
    'day-not-kept': 'その日はほかの注文で埋まりました。新しい日をご覧ください。',
    'key-reused': 'この注文は別の内容で送られています。',
    'still-running': '注文はすでに進んでいます。少々お待ちください。',
    'precondition-failed': '読んだあとに変わりました。',
    'precondition-required': 'どの版かを示してください。',
    'catalog-faulty': 'カタログに誤りがあります。',
    'too-large': 'ファイルが大きすぎます。',
    'upload-protocol': 'ファイルを送れませんでした。工房の送信方式の版が異なります。',
    'upload-offset': 'ファイルの一部が届かなかったため、もう一度送ります。',
    'upload-altered': 'ファイルが途中で変わりました。もう一度送ってください。',
    'unsupported-file': 'この種類のファイルからはプリントできません。PNG、JPEG、SVG、PDFを送ってください。',
    'unreadable-file': 'ファイルを読めません。壊れているか途中で切れています。保存し直して送ってください。',
    'unsupported-media': 'この種類の内容は受け付けていません。',
    'too-many-requests': '一度に多すぎます。少しお待ちください。',
    'state-not-allowed': '注文をその状況にはできません。',
    busy: '工房が混み合っています。もう一度試します。',
    'server-fault': '工房で問題が起きました。注文票は残っています。',
  },
  states: {
    accepted: '受付済み',
    'in-work': '作業中',
    packed: '梱包済み',
    'handed-over': 'お渡し済み',
    cancelled: '取り消し',
  },
  late: {
    'not-kept': '申し訳ありません。お約束の日に間に合いません。',
    'no-day-yet': '未定',
    equipment: 'ご注文に必要な機械が使えない状態です。',
    remake: 'ご注文の一部を作り直します。',
    'work-before': '前の作業が予定より長くかかりました。',
    hours: '店の営業時間が変わりました。',
    people: '予定より人手が少なくなっています。',
  },
  stage: {
    drawing: (_say, view) => `${view}、実寸の比率で描いた図`,
    artworks: '図の上の図案',
    keys: '矢印キーで動かし、Shiftで大きく動かします。プラスとマイナスで幅、角かっこで回転、Deleteで取り除き、Escで放します。',
    artwork: (say, p) => `${p.face}の${p.name}：${say.size(p.widthMm, p.heightMm)}、${place(say, p)}`,
    moved: (say, p) => `${place(say, p)}、幅${say.len(p.widthMm)}`,
    wide: (say, widthMm) => `幅 ${say.len(widthMm)}`,
    outside: 'プリント範囲からはみ出しています',
    inKeepOut: (_say, name) => `${name}にかかっています`,
    loading: '絵を読み込んでいます',
    failed: '絵を表示できません',
    dropHere: 'ここに図案を置く',
    chooseFile: 'またはファイルを選ぶ',
  },
};
