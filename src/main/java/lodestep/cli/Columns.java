package lodestep.cli;

/**
 * How many columns of a terminal a text takes up. Pure.
 *
 * <p>Source: Unicode Standard Annex 11, East Asian Width: wide and full-width characters take two;
 * marks that are set on the letter before take none. The blocks of wide characters are taken whole.
 */
final class Columns {

  private Columns() {}

  /** Columns taken up by this text, which has no line break and no control character. */
  static int of(String text) {
    return text.codePoints().map(Columns::ofCharacter).sum();
  }

  private static int ofCharacter(int codePoint) {
    return switch (Character.getType(codePoint)) {
      case Character.NON_SPACING_MARK, Character.ENCLOSING_MARK, Character.FORMAT -> 0;
      default -> isWide(codePoint) ? 2 : 1;
    };
  }

  private static boolean isWide(int codePoint) {
    return between(codePoint, 0x1100, 0x115F) // Hangul initial consonants
        || between(codePoint, 0x2E80, 0x303E) // radicals, punctuation
        || between(codePoint, 0x3041, 0xA4CF) // kana to Yi
        || between(codePoint, 0xAC00, 0xD7A3) // Hangul syllables
        || between(codePoint, 0xF900, 0xFAFF) // compatibility ideographs
        || between(codePoint, 0xFE30, 0xFE6F) // compatibility forms
        || between(codePoint, 0xFF00, 0xFF60) // full-width forms
        || between(codePoint, 0xFFE0, 0xFFE6) // full-width signs
        || between(codePoint, 0x1F300, 0x1F64F) // pictographs
        || between(codePoint, 0x1F900, 0x1F9FF) // more pictographs
        || between(codePoint, 0x20000, 0x3FFFD); // further ideographs
  }

  private static boolean between(int codePoint, int first, int last) {
    return codePoint >= first && codePoint <= last;
  }
}
