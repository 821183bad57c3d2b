package lodestep.protocol;

/** The words of a hello: printable ASCII without blanks. */
final class WireWord {

  private WireWord() {}

  static boolean isWord(String word, int charactersMax) {
    return !word.isEmpty()
        && word.length() <= charactersMax
        && word.chars().allMatch(c -> c > ' ' && c <= '~');
  }
}
