package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Our closed-form steps against as plain a reckoning of the same loop as there is. */
class RelayEnsembleTest {

  private static final Shape.Rod ROD = new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5));

  /** Charged, knocked down in growing steps, then a weaker pulse and charged part of the way. */
  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @ValueSource(strings = {"alnico 2", "alnico 5", "alnico 8"})
  void agreeWithinTwoThousandthsOfTheFullCharge(String alloy) {
    Hysteresis loop = Hysteresis.of(AlloyBook.standard().find(alloy).orElseThrow());
    double centre = loop.centreAmperesPerMetre();
    MagnetModel model = new MagnetModel(loop, ROD.demagnetisingFactor());
    RelayEnsemble relays = new RelayEnsemble(loop, ROD.demagnetisingFactor(), RelayEnsemble.GRID);
    double full = model.chargedPolarisationTesla();
    MagnetState state = model.uncharged();

    double[] peaks = {20, -0.2, -0.45, -0.7, -0.3, 0.5};
    for (double part : peaks) {
      double peak = part * centre;
      state = model.afterPulse(state, new FieldStrength(peak));
      double expected = relays.pulse(peak);
      assertThat(model.polarisationTesla(state)).isCloseTo(expected, within(2e-3 * full));
    }
  }
}
