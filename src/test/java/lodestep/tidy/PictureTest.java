package lodestep.tidy;

import static com.tngtech.archunit.base.DescribedPredicate.describe;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.lang.ArchRule;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/**
 * Goal: the program keeps to its import picture and calls nothing banned. Method: each rule is run
 * over the program, where it must find nothing, and over planted bad examples, where it must find
 * the class planted for it: a rule that cannot fail is no rule.
 */
class PictureTest {

  private static final Picture PROGRAM = new Picture("lodestep");
  private static final Picture PLANTED = new Picture("lodestep.tidy.planted");
  private static final String PLANTED_VENDOR = "lodestep.tidy.planted.vendor";

  /** The program and its tests, read once, as reading is most of this test's work. */
  private static final JavaClasses ALL = new ClassFileImporter().importPackages(PROGRAM.root());

  private static final JavaClasses EXAMPLES =
      ALL.that(describe("are planted", PictureTest::isPlanted));
  private static final JavaClasses UNPLANTED =
      ALL.that(describe("are meant", type -> !isPlanted(type)));
  private static final JavaClasses MAIN =
      UNPLANTED.that(describe("are the program", type -> !isTest(type)));

  @TestFactory
  Stream<DynamicTest> everyLayerImportsOnlyWhatThePictureAllows() {
    return Picture.layers().stream()
        .map(layer -> DynamicTest.dynamicTest(layer, () -> passes(PROGRAM.imports(layer))));
  }

  @Test
  void findsALayerThatImportsUpwards() {
    finds(PLANTED.imports("quantity"), "UpwardImport");
  }

  @Test
  void placesEveryClassInThePicture() {
    assertThat(MAIN.stream().filter(type -> !PROGRAM.places(type)).map(Object::toString)).isEmpty();
    assertThat(EXAMPLES.stream().filter(type -> !PLANTED.places(type)).map(Object::toString))
        .anyMatch(name -> name.contains("NowhereInThePicture"));
  }

  @Test
  void hasNoCircles() {
    assertThat(MAIN).as("classes of the program").isNotEmpty();
    passes(PROGRAM.noCircles());
    finds(PLANTED.noCircles(), "Cycle");
  }

  @Test
  void keepsThePurePackagesPure() {
    passes(PROGRAM.pureStaysPure());
    finds(PLANTED.pureStaysPure(), "ReadsAFile");
    finds(PLANTED.pureStaysPure(), "StartsAThread");
  }

  @Test
  void reachesEachVendorThroughOneAdapter() {
    passes(PROGRAM.vendorOnlyIn("com.fazecast", "adapter.serial"));
    passes(PROGRAM.vendorOnlyIn("com.pi4j", "adapter.gpio"));
    passes(PROGRAM.vendorOnlyIn("org.sqlite", "adapter.sqlite"));
    passes(PROGRAM.vendorOnlyIn("java.sql", "adapter.sqlite"));
    passes(PROGRAM.vendorOnlyIn("org.tomlj", "config"));
    passes(PROGRAM.vendorOnlyIn("org.knowm", "adapter.plot"));
    passes(PROGRAM.vendorOnlyIn("org.apache.pdfbox", "adapter.paper"));
    passes(PROGRAM.vendorOnlyIn("com.google.zxing", "adapter.paper"));
    passes(PROGRAM.vendorOnlyIn("io.javalin", "panel"));
    passes(PROGRAM.vendorOnlyIn("org.eclipse.jetty", "panel"));
    finds(PLANTED.vendorOnlyIn(PLANTED_VENDOR, "adapter.gpio"), "PulsesAPin");
  }

  @Test
  void readsTheClockInItsAdapterAlone() {
    passes(PROGRAM.clocksOnlyInTheirAdapter());
    finds(PLANTED.clocksOnlyInTheirAdapter(), "ReadsTheClock");
  }

  @Test
  void neverSleeps() {
    ArchRule rule = Picture.nothingSleeps();

    assertThat(violations(rule, UNPLANTED)).isEmpty();
    finds(rule, "StartsAThread");
  }

  @Test
  void neverLetsALibraryTimeAPin() {
    passes(Picture.nothingPulsesAPin("com.pi4j"));
    finds(Picture.nothingPulsesAPin(PLANTED_VENDOR), "PulsesAPin.run()");
    finds(Picture.nothingPulsesAPin(PLANTED_VENDOR), "PulsesAPin.runHigh()");
    finds(Picture.nothingPulsesAPin(PLANTED_VENDOR), "PulsesAPin.later()");
  }

  @Test
  void sharesNoMutableState() {
    passes(Picture.noSharedMutableState());
    finds(Picture.noSharedMutableState(), "SharedCounter");
  }

  @Test
  void holdsNoArraysInRecords() {
    passes(Picture.recordsHoldNoArrays());
    finds(Picture.recordsHoldNoArrays(), "ArrayInside");
  }

  private static boolean isPlanted(JavaClass type) {
    return type.getPackageName().startsWith(PLANTED.root());
  }

  private static boolean isTest(JavaClass type) {
    return type.getSource()
        .map(source -> source.getUri().toString().contains("/test-classes/"))
        .orElse(false);
  }

  private static void passes(ArchRule rule) {
    assertThat(violations(rule, MAIN)).as(rule.getDescription()).isEmpty();
  }

  private static void finds(ArchRule rule, String plantedClass) {
    assertThat(violations(rule, EXAMPLES))
        .as(rule.getDescription())
        .anyMatch(violation -> violation.contains(plantedClass));
  }

  private static List<String> violations(ArchRule rule, JavaClasses classes) {
    return rule.evaluate(classes).getFailureReport().getDetails();
  }
}
