/** How a shop file is called, whatever the system that it lies on. */
const SHOP_ADDRESS = /\/shop\.yaml$/;

export const isShopAddress = (uri: string): boolean => SHOP_ADDRESS.test(uri);

export interface OpenShop {
  readonly uri: string;
  readonly version: number;
  readonly text: string;
}

/** Shop files as they stand in the editor, saved or not. They go before what lies on the disk. */
export interface OpenShops {
  all(): readonly OpenShop[];
}

/** The open texts, as far as shop files among them are looked for. */
interface OpenTexts {
  all(): readonly { readonly uri: string; readonly version: number; getText(): string }[];
}

export const openShopsAmong = (texts: OpenTexts): OpenShops => ({
  all: () =>
    texts
      .all()
      .filter(({ uri }) => isShopAddress(uri))
      .map((text) => ({ uri: text.uri, version: text.version, text: text.getText() })),
});
