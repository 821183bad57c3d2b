package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class AlloyBookTest {

  private final AlloyBook book = AlloyBook.standard();

  @Test
  void namesTheCastAlnicosInOrder() {
    assertThat(book.names())
        .containsExactly("alnico 2", "alnico 3", "alnico 4", "alnico 5", "alnico 6", "alnico 8");
  }

  @ParameterizedTest
  @ValueSource(strings = {"alnico 5", "Alnico5", "ALNICO-5", " alnico_5 ", "Alnico V", "A5", "a v"})
  void findsAnAlloyInAnySpelling(String text) {
    assertThat(book.find(text)).map(Alloy::name).contains("alnico 5");
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "5", "alnico", "alnico 7", "alnico 55", "ferrite", "A", "alnico ivv"})
  void doesNotGuessAnAlloy(String text) {
    assertThat(book.find(text)).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({"alnco 5, alnico 5", "Alnica 8, alnico 8", "alnico 5x, alnico 5"})
  void offersTheNearestName(String text, String expected) {
    assertThat(book.nearest(text)).containsExactly(expected);
  }

  @Test
  void offersNoOneGradeForANumberThatIsAsFarFromAll() {
    assertThat(book.nearest("alnico 7")).isEqualTo(book.names());
  }

  @Test
  void offersNothingForATextThatIsLikeNoName() {
    assertThat(book.nearest("samarium cobalt")).isEmpty();
    assertThat(book.nearest("")).isEmpty();
  }

  /**
   * MMPA Standard 0100-00, section II, in its own units (kG, Oe, MGOe), from memory; converted here
   * with 1 Oe = 79.577 A/m and 1 MGOe = 7.9577 kJ/m³. The book carries figures rounded to the kA/m.
   */
  @ParameterizedTest
  @CsvSource({
    "alnico 2, 7.5, 560, 580, 1.7",
    "alnico 3, 7.0, 480, 500, 1.35",
    "alnico 5, 12.8, 640, 640, 5.5",
    "alnico 6, 10.5, 780, 800, 3.9",
    "alnico 8, 8.2, 1650, 1860, 5.3"
  })
  void carriesThePublishedFigures(
      String name,
      double kilogauss,
      double hcbOersted,
      double hcjOersted,
      double megaGaussOersted) {
    Alloy alloy = book.find(name).orElseThrow();

    assertThat(alloy.remanence().tesla()).isCloseTo(kilogauss / 10, within(1e-9));
    assertThat(alloy.coercivityB().amperesPerMetre()).isCloseTo(hcbOersted * 79.577, within(600.0));
    assertThat(alloy.coercivityJ().amperesPerMetre()).isCloseTo(hcjOersted * 79.577, within(600.0));
    assertThat(alloy.energyProductJoulesPerCubicMetre())
        .isCloseTo(megaGaussOersted * 7957.7, within(60.0));
  }

  /** ASTM A1070-16, scope: alnico Br 0.52 to 1.35 T, HcB 38 to 175 kA/m. */
  @Test
  void staysInsideThePublishedEnvelope() {
    for (Alloy alloy : book.alloys()) {
      assertThat(alloy.remanence().tesla()).as(alloy.name()).isBetween(0.52, 1.35);
      assertThat(alloy.coercivityB().amperesPerMetre()).as(alloy.name()).isBetween(38e3, 175e3);
      assertThat(alloy.source()).as(alloy.name()).contains("from memory");
    }
  }

  @Test
  void refusesFiguresThatContradictEachOther() {
    Alloy good = book.find("alnico 2").orElseThrow();

    assertThatThrownBy(() -> changed(good, new FluxDensity(0), 46e3, 5.5))
        .hasMessage("alloy 'trial' needs a remanence above zero");
    assertThatThrownBy(() -> changed(good, good.remanence(), 44e3, 5.5))
        .hasMessageContaining("has HcJ below HcB");
    assertThatThrownBy(() -> changed(good, good.remanence(), 300e3, 5.5))
        .hasMessageContaining("saturating field above HcJ");
    assertThatThrownBy(() -> changed(good, good.remanence(), 46e3, 0.9))
        .hasMessageContaining("recoil permeability");
    assertThatThrownBy(() -> changed(good, good.remanence(), 46e3, Double.NaN))
        .hasMessageContaining("recoil permeability");
  }

  @Test
  void refusesTwoAlloysSpelledAlike() {
    Alloy alloy = book.find("alnico 2").orElseThrow();

    assertThatThrownBy(() -> new AlloyBook(List.of(alloy, alloy)))
        .hasMessageContaining("names of their own");
    assertThatThrownBy(() -> new AlloyBook(List.of())).hasMessageContaining("needs alloys");
  }

  @Test
  void refusesASpreadOutOfRange() {
    assertThatThrownBy(() -> new Spread(0.01, -0.01, 0, 0))
        .hasMessage("spread of remanence, magnet out of range: -0.01");
    assertThatThrownBy(() -> new Spread(0.01, 0.01, Double.NaN, 0))
        .hasMessageContaining("coercivity, lot");
  }

  private static Alloy changed(Alloy alloy, FluxDensity remanence, double hcj, double recoil) {
    return new Alloy(
        "trial",
        remanence,
        alloy.coercivityB(),
        new FieldStrength(hcj),
        alloy.energyProductJoulesPerCubicMetre(),
        recoil,
        alloy.remanencePerKelvin(),
        alloy.saturatingField(),
        alloy.spread(),
        alloy.source());
  }
}
