package lodestep.tidy;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What no tool of the build looks at: the shape of Java sources. Reads source text as the formatter
 * leaves it. Findings read {@code file:line: what; what to do instead}.
 */
final class SourceRules {

  static final int LINES_MAX = 400;
  static final int METHOD_LINES_MAX = 40;
  static final int COLUMNS_MAX = 100;

  private static final Pattern LITERAL =
      Pattern.compile("\"\"\"(?s:.*?)\"\"\"|\"(?:\\\\.|[^\"\\\\\\n])*\"|'(?:\\\\.|[^'\\\\\\n])'");
  private static final Pattern COMMENT = Pattern.compile("//[^\\n]*|/\\*(?s:.*?)\\*/");
  private static final Pattern EITHER =
      Pattern.compile(LITERAL.pattern() + "|" + COMMENT.pattern());

  private static final Pattern ASSERT = Pattern.compile("^\\s*assert\\b");
  private static final Pattern SETTER = Pattern.compile("\\bvoid set[A-Z]\\w*\\(");
  private static final Pattern TEST_PREFIX = Pattern.compile("\\bvoid test[A-Z_]?\\w*\\(");
  private static final Pattern CATCHES_ALL = Pattern.compile("catch \\((?:Exception|Throwable) ");
  private static final Pattern UNFINISHED =
      Pattern.compile("\\b(?:FIX" + "ME|XX" + "X|TO" + "DO(?! #\\d))\\b");
  private static final Pattern METHOD_HEAD =
      Pattern.compile(".*\\w\\s*\\([^{}]*\\)\\s*(?:throws [\\w., ]+)?\\s*");
  private static final Pattern NO_METHOD =
      Pattern.compile(
          ".*(?:->|=|\\bnew\\b|\\b(?:if|for|while|switch|catch|try|synchronized|else|do|class"
              + "|record|interface|enum)\\b).*");

  /** Of a type or a member; a record's compact constructor has the record's own javadoc. */
  private static final Pattern PUBLIC = Pattern.compile("^(?:  )?public (?!\\w+ \\{$).*");

  private SourceRules() {}

  /** Every finding in one source file. */
  static List<String> findings(String file, String source) {
    List<String> found = new ArrayList<>();
    List<String> lines = source.lines().toList();
    if (lines.size() > LINES_MAX) {
      found.add(file + ":" + lines.size() + ": over " + LINES_MAX + " lines; split the file");
    }
    String code = withoutWords(source);
    lineRules(found, file, code, lines);
    methodLengths(found, file, code);
    return found;
  }

  /** Findings that only the program's own sources must not have. */
  static List<String> findingsInMain(String file, String source) {
    List<String> found = new ArrayList<>(findings(file, source));
    List<String> lines = source.lines().toList();
    for (int index = 0; index < lines.size(); index++) {
      if (PUBLIC.matcher(lines.get(index)).matches() && !documented(lines, index)) {
        found.add(file + ":" + (index + 1) + ": public without javadoc; say what it promises");
      }
    }
    return found;
  }

  private static void lineRules(List<String> found, String file, String code, List<String> lines) {
    List<String> codeLines = code.lines().toList();
    for (int index = 0; index < lines.size(); index++) {
      String where = file + ":" + (index + 1) + ": ";
      String line = lines.get(index);
      String codeLine = index < codeLines.size() ? codeLines.get(index) : "";
      // An import, a link or an example's bytes cannot be broken into two lines.
      String words = line.strip().replaceFirst("^(?:\\*|//|import) ", "");
      boolean breakable = words.contains(" ") && !words.startsWith("{\"");
      add(found, breakable && line.length() > COLUMNS_MAX, where, "over 100 columns; break it");
      add(found, UNFINISHED.matcher(line).find(), where, "unfinished; do it, or give its number");
      add(found, ASSERT.matcher(codeLine).find(), where, "assert is off by default; throw instead");
      add(found, SETTER.matcher(codeLine).find(), where, "a setter; make a new record instead");
      add(found, TEST_PREFIX.matcher(codeLine).find(), where, "test prefix; write a sentence");
      boolean loopTop = file.contains("/app/") || file.contains("/scan/");
      add(
          found,
          !loopTop && CATCHES_ALL.matcher(codeLine).find(),
          where,
          "catches everything; name the exception");
    }
  }

  private static void add(List<String> found, boolean bad, String where, String what) {
    if (bad) {
      found.add(where + what);
    }
  }

  /** The same text with comments and literals blanked, line by line. */
  private static String withoutWords(String source) {
    return EITHER
        .matcher(source)
        .replaceAll(match -> Matcher.quoteReplacement(match.group().replaceAll("[^\\n]", " ")));
  }

  private record Block(int line, boolean method) {}

  private static void methodLengths(List<String> found, String file, String code) {
    Deque<Block> open = new ArrayDeque<>();
    int line = 1;
    int headStart = 0;
    for (int at = 0; at < code.length(); at++) {
      char letter = code.charAt(at);
      if (letter == '\n') {
        line++;
      } else if (letter == '{') {
        open.push(new Block(line, isMethod(code.substring(headStart, at))));
      } else if (letter == '}' && !open.isEmpty()) {
        Block block = open.pop();
        int length = line - block.line() + 1;
        if (block.method() && length > METHOD_LINES_MAX) {
          found.add(
              file + ":" + block.line() + ": a method of " + length + " lines; give parts names");
        }
      }
      if (letter == '{' || letter == '}' || letter == ';') {
        headStart = at + 1;
      }
    }
  }

  private static boolean isMethod(String head) {
    // An annotation's own arguments must not pass for a method's, nor its equals sign hide one.
    String bare = head.strip().replaceAll("\\s+", " ").replaceAll("@\\w+(?:\\([^)]*\\))?", "");
    return METHOD_HEAD.matcher(bare).matches() && !NO_METHOD.matcher(bare).matches();
  }

  private static boolean documented(List<String> lines, int index) {
    int above = index - 1;
    while (above >= 0 && isAnnotation(lines.get(above))) {
      if (lines.get(above).strip().startsWith("@Override")) {
        return true;
      }
      above--;
    }
    return above >= 0 && lines.get(above).strip().endsWith("*/");
  }

  private static boolean isAnnotation(String line) {
    return line.strip().startsWith("@");
  }
}
