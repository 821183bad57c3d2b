package lodestep.tidy;

import static com.tngtech.archunit.base.DescribedPredicate.describe;
import static com.tngtech.archunit.lang.conditions.ArchConditions.haveRawType;
import static com.tngtech.archunit.lang.conditions.ArchConditions.not;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.fields;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static java.util.Map.entry;

import com.tngtech.archunit.core.domain.JavaCall;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.lang.ArchRule;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;

/**
 * The import picture and the banned calls as rules over compiled classes.
 *
 * @param root package that holds the layers: the program's, or that of the planted bad examples
 */
record Picture(String root) {

  /** Packages that do no I/O, start no thread and read no clock. */
  static final Set<String> PURE =
      Set.of(
          "quantity",
          "magnet",
          "measure",
          "protocol",
          "config",
          "ledger",
          "interlock",
          "device",
          "dial",
          "paper",
          "voice",
          "soak");

  private static final List<String> IMPURE =
      List.of(
          "java.io.",
          "java.nio.file.",
          "java.nio.channels.",
          "java.net.",
          "java.sql.",
          "java.util.concurrent.",
          "java.util.logging.",
          "org.tinylog.",
          "org.slf4j.");

  /** Every enum and record is serializable, and text parsers declare this exception. */
  private static final Set<String> HARMLESS = Set.of("java.io.Serializable", "java.io.IOException");

  private static final Set<String> ADAPTERS_USE =
      Set.of("port", "quantity", "magnet", "measure", "protocol", "config", "ledger");

  /** What each layer may import of the others; with it comes what those may import. */
  private static final Map<String, Set<String>> MAY_IMPORT =
      Map.ofEntries(
          entry("quantity", Set.of()),
          entry("magnet", Set.of("quantity")),
          entry("measure", Set.of("quantity")),
          entry("protocol", Set.of("quantity")),
          entry("config", Set.of("quantity")),
          entry("port", Set.of("quantity", "protocol")),
          entry("ledger", Set.of("port", "config")),
          entry("interlock", Set.of("port", "measure", "config")),
          entry("voice", Set.of("paper")),
          entry("device", Set.of("port", "measure", "config")),
          entry("dial", Set.of("device", "magnet", "measure", "port")),
          entry("scan", Set.of("interlock", "port")),
          entry("bench", Set.of("dial", "port", "ledger")),
          entry("paper", Set.of("bench", "dial", "magnet", "measure", "port", "ledger")),
          entry("adapter", ADAPTERS_USE),
          entry("sim", ADAPTERS_USE),
          entry("soak", Set.of("sim", "bench", "scan")),
          entry("panel", Set.of("bench", "paper", "voice", "port", "ledger")),
          entry("cli", Set.of("bench", "paper", "voice", "port", "ledger")));

  /** The one package that may import everything. */
  private static final String APP = "app";

  /** The layers with rules of their own, in alphabetical order. */
  static Set<String> layers() {
    return new TreeSet<>(MAY_IMPORT.keySet());
  }

  /** Whether the class lies in one of the layers, so that the picture says something of it. */
  boolean places(JavaClass type) {
    String layer = layerOf(type);
    return layer.equals(APP) || MAY_IMPORT.containsKey(layer);
  }

  private String layerOf(JavaClass type) {
    String name = type.getPackageName();
    if (!name.startsWith(root + ".")) {
      return "";
    }
    String inside = name.substring(root.length() + 1);
    return inside.contains(".") ? inside.substring(0, inside.indexOf('.')) : inside;
  }

  /** The layer's classes import only what the picture allows. */
  ArchRule imports(String layer) {
    Set<String> allowed = reach(layer, new TreeSet<>(Set.of(layer)));
    return classes()
        .that(describe("in " + layer, type -> layerOf(type).equals(layer)))
        .should()
        .onlyDependOnClassesThat(
            describe(
                "lie in " + allowed + " or outside the program",
                type -> !type.getPackageName().startsWith(root) || allowed.contains(layerOf(type))))
        .allowEmptyShould(true);
  }

  private static Set<String> reach(String layer, Set<String> reached) {
    for (String next : MAY_IMPORT.getOrDefault(layer, Set.of())) {
      if (reached.add(next)) {
        reach(next, reached);
      }
    }
    return reached;
  }

  ArchRule noCircles() {
    return slices().matching(root + ".(*)..").should().beFreeOfCycles().allowEmptyShould(true);
  }

  /** Pure packages: no I/O, no thread, no clock, no logger. */
  ArchRule pureStaysPure() {
    return noClasses()
        .that(describe("in a pure package", type -> PURE.contains(layerOf(type))))
        .should()
        .dependOnClassesThat(describe("do I/O, run threads or log", Picture::isImpure))
        .allowEmptyShould(true);
  }

  private static boolean isImpure(JavaClass type) {
    String name = type.getName();
    return !HARMLESS.contains(name)
        && (name.equals("java.lang.Thread") || IMPURE.stream().anyMatch(name::startsWith));
  }

  /** Classes of this vendor are imported by one package alone. */
  ArchRule vendorOnlyIn(String vendor, String packageInRoot) {
    return noClasses()
        .that()
        .resideOutsideOfPackages(root + "." + packageInRoot + "..", vendor + "..")
        .should()
        .dependOnClassesThat()
        .resideInAPackage(vendor + "..")
        .allowEmptyShould(true);
  }

  /** The time of the machine is read in one place and handed in everywhere else. */
  ArchRule clocksOnlyInTheirAdapter() {
    return noClasses()
        .that()
        .resideOutsideOfPackage(root + ".adapter.clock..")
        .should()
        .callMethodWhere(describe("reads the machine's clock", Picture::readsClock))
        .allowEmptyShould(true);
  }

  private static boolean readsClock(JavaCall<?> call) {
    String owner = call.getTargetOwner().getName();
    String method = call.getName();
    boolean machineTime = method.equals("nanoTime") || method.equals("currentTimeMillis");
    boolean wallTime = method.equals("now") || method.startsWith("system");
    return (owner.equals("java.lang.System") && machineTime)
        || (owner.startsWith("java.time.") && wallTime);
  }

  /** Sleeping hides races and binds a run to the machine's speed. */
  static ArchRule nothingSleeps() {
    return noClasses()
        .should()
        .callMethodWhere(
            describe(
                "sleeps",
                (JavaCall<?> call) ->
                    call.getName().equals("sleep")
                        && call.getTargetOwner().getName().startsWith("java.")))
        .allowEmptyShould(true);
  }

  /** The library's own timed writes can leave a pin high when they are interrupted. */
  static ArchRule nothingPulsesAPin(String vendor) {
    return noClasses()
        .should()
        .accessTargetWhere(
            describe(
                "lets a library time a pin; drive it high and low instead",
                access ->
                    access.getTargetOwner().getPackageName().startsWith(vendor)
                        && access.getName().matches("(pulse|blink|toggle).*")))
        .allowEmptyShould(true);
  }

  static ArchRule noSharedMutableState() {
    return fields()
        .that()
        .areStatic()
        .and(describe("are written by people", field -> !field.getName().contains("$")))
        .should()
        .beFinal()
        .allowEmptyShould(true);
  }

  static ArchRule recordsHoldNoArrays() {
    return fields()
        .that()
        .areNotStatic()
        .and()
        .areDeclaredInClassesThat(describe("are records", JavaClass::isRecord))
        .should(not(haveRawType(describe("an array", JavaClass::isArray))))
        .allowEmptyShould(true);
  }
}
