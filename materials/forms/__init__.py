"""What is typed or chosen on the pages of materials ⇄ values, split by noun."""

from materials.forms.stock import EnterRemnantForm, LoadForm, RequestSheetForm, ScrapForm, SettleForm, where_of

__all__ = ["EnterRemnantForm", "LoadForm", "RequestSheetForm", "ScrapForm", "SettleForm", "where_of"]
